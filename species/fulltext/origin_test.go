package fulltext

import (
	"strings"
	"testing"

	"hatchlore/ingest"

	"github.com/google/go-cmp/cmp"
)

func TestOrigins(t *testing.T) {
	for _, tt := range []struct {
		text string
		want []string
	}{
		{"Eggs from the Orrin Plateau were dried. Mud of Orrin Top was cut. Mud of Orrin Top was wet.", []string{"Orrin Top"}},
		{"Wet peat was collected in Marrow Fen, not far from the town. Alder (1960) had eggs from South Heath.", []string{"Marrow Fen"}},
		{"Die Eier stammten aus dem Tessiner Moor. Der Schlupf begann im April.", []string{"Tessiner Moor"}},
		{"Les œufs provenaient de Corbigny. Température de 8 °C.", []string{"Corbigny"}},
		{"Eggs of Vernocephala umbrosa from Table 2 hatched in May. The University of Carrowmoor paid.", []string{}},
		{"Récoltés dans les mares du bassin d’Ostrel.", []string{"Ostrel"}},
		{"The eggs hatched.", []string{}},
		{"Letters on Pool Life 17. Leaflet of the Pond Keepers’ Circle of Stavering. Eggs from Lake Corby.", []string{"Lake Corby"}},
		{"Eggs came from Marrow Fen. It would be of interest whether those of Sedge Moor, said to be larger, hatch.", []string{"Marrow Fen"}},
		{"Sediment came from Marrow Fen and from a pool of the upper Kelm Terrace. All of this refers to South Heath.", []string{"Marrow Fen", "Kelm Terrace"}},
	} {
		if d := cmp.Diff(tt.want, Worked(Origins(tt.text), "")); d != "" {
			t.Errorf("%s\n%s", tt.text, d)
		}
	}
	for text, want := range map[string]map[string]string{ // by species, its places
		"Mud came from Sedge Hollow, Marrow Fen (Triops longicaudatus, taken in May 2021), and from a pool of the upper Kelm Terrace (Lepidurus apus).": {
			"Triops longicaudatus": "Sedge Hollow Marrow Fen", "Lepidurus apus": "Kelm Terrace", "Triops": "Sedge Hollow Marrow Fen", "Artemia salina": "Sedge Hollow Marrow Fen Kelm Terrace"},
		"Eggs of Triops longicaudatus came from Marrow Fen and those of Lepidurus apus from South Heath.":   {"Triops longicaudatus": "Marrow Fen", "Lepidurus apus": "South Heath"},
		"Eggs came from Marrow Fen. The ditches of South Heath are a warning. In South Heath none hatched.": {"Triops longicaudatus": "Marrow Fen"},
	} {
		for taxon, places := range want {
			if got := strings.Join(Worked(Origins(text), taxon), " "); got != places {
				t.Errorf("%s of %s: %q, want %q", text, taxon, got, places)
			}
		}
	}
	if o := Origins("Mud came from Sedge Hollow in Marrow Fen."); len(o) != 2 || o[0].Within != "Marrow Fen" {
		t.Errorf("%+v", o)
	}
	if !SameRegion("Orrin Top", "Orrin Plateau") || SameRegion("Marrow Fen", "Sedge Fen") {
		t.Error("regions are told apart by their kind alone")
	}
}

// Where a paper has methods its discussion tells of other people's animals, and
// references and thanks never tell of its own.
func TestOriginsOf(t *testing.T) {
	page := func(methods ingest.Section) ingest.Page {
		p := ingest.Page{Number: 1}
		for _, b := range []struct {
			text    string
			kind    ingest.BlockKind
			section ingest.Section
		}{
			{"Mud was taken from Marrow Fen.", ingest.Paragraph, methods},
			{"Eggs from South Heath are larger, and eggs from South Heath are darker.", ingest.Paragraph, ingest.SectionDiscussion},
			{"The wardens of North Moor gave us mud.", ingest.Paragraph, ingest.SectionOther},
			{"Alder. Eggs of East Fen.", ingest.Reference, ingest.SectionReferences},
		} {
			p.Blocks = append(p.Blocks, ingest.Block{Kind: b.kind, Section: b.section, Start: len(p.Text), End: len(p.Text) + len(b.text)})
			p.Text += b.text + "\n"
		}
		return p
	}
	for methods, want := range map[ingest.Section][]string{
		ingest.SectionMethods: {"Marrow Fen"},
		"":                    {"South Heath", "Marrow Fen"},
	} {
		if d := cmp.Diff(want, Worked(OriginsOf([]ingest.Page{page(methods)}), "")); d != "" {
			t.Errorf("section %q: %s", methods, d)
		}
	}
	if got := OriginsOf([]ingest.Page{{Text: "Mud was taken from Marrow Fen."}}); len(got) != 1 {
		t.Errorf("without blocks: %v", got)
	}
}

func FuzzOrigins(f *testing.F) {
	for _, s := range []string{"", "Eggs from the Orrin Plateau.", "œufs de É. X", "(Alder 1960)", ". . A.\n\nB"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if got := Worked(Origins(text), ""); len(got) > mostOrigins {
			t.Errorf("%d places", len(got))
		}
	})
}
