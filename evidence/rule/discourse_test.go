package rule

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/ingest"
)

// saidBy lists claims as "factor bearing value taxon stage cited", sorted.
func saidBy(claims []evidence.Claim) string {
	var out []string
	for _, c := range claims {
		v := interval(c.Low, c.High)
		if v == "-" {
			v = c.Category
		}
		out = append(out, strings.Join(strings.Fields(fmt.Sprintf("%s %s %s %s %s %s", c.Factor, c.Bearing, v, c.Taxon, c.Stage, c.Cited)), " "))
	}
	slices.Sort(out)
	return strings.Join(out, "; ")
}

// What a sentence says depends on those around it.
func TestDiscourse(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, text, want string }{
		{"blamed on what is changed next",
			"Eggs of Triops cancriformis chilled for 80 days did not hatch in water of 2.2 mS/cm. When it was replaced by water of 0.3 mS/cm, 66 % hatched.",
			"conductivity favours 300 Triops cancriformis; conductivity prevents 2200 Triops cancriformis hatching; hatching-fraction favours 66 Triops cancriformis hatching; stratification-length favours 80 Triops cancriformis hatching"},
		{"nothing is changed",
			"Eggs of Triops cancriformis chilled for 80 days did not hatch in water of 2.2 mS/cm. Nothing more was tried.",
			"conductivity prevents 2200 Triops cancriformis hatching; stratification-length prevents 80 Triops cancriformis hatching"},
		{"moved to fresher water",
			"No eggs of Triops cancriformis hatched at 9 mS/cm. Those brought back to 0.5 mS/cm hatched.",
			"conductivity favours 500 Triops cancriformis hatching; conductivity prevents 9000 Triops cancriformis hatching; trigger favours salinity-drop Triops cancriformis hatching"},
		{"emerged and yet not hatched",
			"We call eggs of Triops cancriformis emerged when the embryo stood outside the shell, and hatched when the nauplius swam free. At 25 °C 70 % emerged and none hatched.",
			"hatching-fraction favours 70 Triops cancriformis emergence; incubation-temperature favours 25 Triops cancriformis emergence; incubation-temperature prevents 25 Triops cancriformis hatching"},
		{"that temperature",
			"Hatching of Triops cancriformis was best at 9 °C and ceased at 18 °C, although at that temperature some eggs hatched later.",
			"incubation-temperature favours 18 Triops cancriformis hatching; incubation-temperature favours 9 Triops cancriformis hatching; incubation-temperature prevents 18 Triops cancriformis"},
		{"a source's own source",
			"Alder (2012) let Triops cancriformis hatch at 30 °C, citing Birch (1968), who wrote 20 °C.",
			"incubation-temperature favours 20 Triops cancriformis hatching Birch (1968); incubation-temperature favours 30 Triops cancriformis hatching Alder (2012)"},
		{"found again",
			"Eggs of Triops cancriformis hatched at 12 °C (Alder 2012). In our dishes they hatched at 12 °C too.",
			"incubation-temperature favours 12 Triops cancriformis hatching; incubation-temperature favours 12 Triops cancriformis hatching (Alder 2012)"},
		{"levels and shares with a sign each",
			"Eggs of Triops cancriformis were incubated at 10, 17 and 24 °C. Success was 12%, 0% and 31%, respectively; all that hatched swam.",
			"hatching-fraction favours 12 Triops cancriformis; hatching-fraction favours 31 Triops cancriformis; hatching-fraction prevents 0 Triops cancriformis; incubation-temperature favours 10 Triops cancriformis; incubation-temperature favours 24 Triops cancriformis; incubation-temperature prevents 17 Triops cancriformis"},
		{"only there",
			"Eggs of Triops cancriformis were incubated at 10, 20 and 30 °C. They hatched only at 20 °C.",
			"incubation-temperature favours 20 Triops cancriformis hatching; incubation-temperature prevents 10 Triops cancriformis; incubation-temperature prevents 30 Triops cancriformis"},
		{"a trend along the list",
			"Eggs of Triops cancriformis were placed in water of 1, 2 and 4 g/L. Hatching declined steadily along the series.",
			"salinity reported 1..4 Triops cancriformis"},
		{"young that die",
			"Eggs of Triops cancriformis hatched at 12 °C. Larvae died within hours at 30 °C.",
			"incubation-temperature favours 12 Triops cancriformis hatching"},
		{"no difference among what was tried",
			"Eggs of Triops cancriformis were incubated at 24 °C in daylight and in total darkness. The proportion hatching (49 and 47 %) did not differ between the two.",
			"hatching-fraction favours 47 Triops cancriformis hatching; hatching-fraction favours 49 Triops cancriformis hatching; incubation-temperature favours 24 Triops cancriformis; light indifferent dark Triops cancriformis"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := saidBy(set.Match(document("Triops", c.text))); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

// A value told again of nobody by name is of the animal of which it was told before.
func TestRecalled(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	const title = "Hatching of Triops cancriformis and Lynceus brachyurus"
	const told = "Eggs of Triops cancriformis were chilled at 5 °C for 45 days and hatched. Eggs of Lynceus brachyurus hatched unchilled."
	for recalled, want := range map[string]string{
		"Our own eggs, it is true, hatched after 45 days of cold.": "Triops cancriformis",
		"Our own eggs, it is true, hatched after 50 days of cold.": "Lynceus brachyurus Triops cancriformis",
	} {
		page := ingest.Page{Number: 1, How: ingest.ByText, Text: told + "\n" + "Discussion\n" + recalled}
		at := len(told) + 1
		page.Blocks = []ingest.Block{{Kind: ingest.Paragraph, End: len(told)}, {Kind: ingest.Heading, Start: at, End: at + len("Discussion")},
			{Kind: ingest.Paragraph, Start: at + len("Discussion\n"), End: len(page.Text)}}
		var got []string
		for _, c := range set.Match(&ingest.Document{Source: "a.pdf", Title: title, Lang: "en", Pages: []ingest.Page{page}}) {
			if strings.Contains(recalled, c.Quote) {
				got = append(got, c.Taxon)
			}
		}
		slices.Sort(got)
		if s := strings.Join(got, " "); s != want {
			t.Errorf("%s: %s, want %s", recalled, s, want)
		}
	}
}

// A source is about whom the title of its entry names, where the text has two
// animals in view.
func TestSubjectOfSource(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	var page ingest.Page
	block := func(kind ingest.BlockKind, section ingest.Section, text string) {
		start := b.Len()
		b.WriteString(text)
		page.Blocks = append(page.Blocks, ingest.Block{Kind: kind, Section: section, Start: start, End: b.Len()})
		b.WriteString("\n\n")
	}
	block(ingest.Paragraph, ingest.SectionResults, "Eggs hatched at 12 °C (Alder 1962).")
	block(ingest.Reference, ingest.SectionReferences, "Alder, P. (1962). On the eggs of Lynceus brachyurus.")
	page.Number, page.How, page.Text = 1, ingest.ByText, b.String()
	doc := &ingest.Document{Source: "two.pdf", Format: "pdf", Title: "Hatching of Triops cancriformis and Lynceus brachyurus", Lang: "en", Pages: []ingest.Page{page}}
	if got, want := saidBy(set.Match(doc)), "incubation-temperature favours 12 Lynceus brachyurus hatching (Alder 1962)"; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}
