package packed

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hatchlore/evidence/store/disk"
	"hatchlore/ingest"
)

// sample is a page with something of everything.
func sample(text string) ingest.Page {
	return ingest.Page{
		Text:  text,
		Lines: []ingest.Line{{Start: 0, End: 5, X: 72.25, Y: 90.5, Width: 300.12, Size: 9.96, Bold: true}, {Start: 6, End: 9}},
		Blocks: []ingest.Block{
			{Kind: ingest.Heading, Section: ingest.SectionMethods, Start: 0, End: 5},
			{Kind: ingest.Table, Start: 6, End: 9, Rows: []ingest.Row{{Head: true, Cells: []ingest.Cell{{Start: 6, End: 7}}}, {Cells: []ingest.Cell{{Start: 8, End: 9}}}}},
		},
		Marks: []ingest.Mark{{Start: 1, End: 2, Kind: ingest.Suspect, Raw: "�"}},
	}
}

func TestPage(t *testing.T) {
	p := New()
	for _, text := range []string{"", "Eggs at 4 °C", strings.Repeat("Eggs of an invented shrimp. ", 500)} {
		page := sample(text)
		if text == "" {
			page = ingest.Page{}
		}
		packedText, layout, err := p.Page(page)
		if err != nil {
			t.Fatal(err)
		}
		var got ingest.Page
		if err := Into(&got, packedText, layout); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(page, got); diff != "" {
			t.Errorf("%q (-in +out):\n%s", text, diff)
		}
		if len(text) > 1000 && len(packedText) > len(text)/10 {
			t.Errorf("%d bytes became %d", len(text), len(packedText))
		}
	}
}

func TestDamaged(t *testing.T) {
	p := New()
	text, layout, err := p.Page(sample(strings.Repeat("Eggs in mud. ", 50)))
	if err != nil {
		t.Fatal(err)
	}
	var page ingest.Page
	for name, pair := range map[string][2][]byte{
		"no text":              {nil, layout},
		"no layout":            {text, nil},
		"cut short":            {text[:len(text)/2], layout},
		"packed in other ways": {append([]byte{9}, text[1:]...), layout},
		"layout is none":       {text, append([]byte{asIs}, "no rows"...)},
	} {
		if err := Into(&page, pair[0], pair[1]); !errors.Is(err, disk.ErrDamaged) {
			t.Errorf("%s: %v, want ErrDamaged", name, err)
		}
	}
}

func FuzzInto(f *testing.F) {
	p := New()
	for _, text := range []string{"", "Eggs", strings.Repeat("Eggs in mud. ", 50)} {
		packedText, layout, err := p.Page(sample(text))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(packedText, layout)
	}
	f.Fuzz(func(t *testing.T, text, layout []byte) {
		var page ingest.Page
		if err := Into(&page, text, layout); err != nil && !errors.Is(err, disk.ErrDamaged) {
			t.Fatalf("%v is not told as damage", err)
		}
	})
}
