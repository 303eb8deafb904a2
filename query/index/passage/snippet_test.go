package passage

import (
	"testing"

	"hatchlore/ingest"
	"hatchlore/query/index/needle"
	"hatchlore/query/index/question"
	"hatchlore/query/index/stem"
)

func TestEnded(t *testing.T) {
	for _, tt := range []struct {
		before, behind string
		want           bool
	}{
		{"", "Eggs hatched", true},
		{"Eggs hatched. ", "They did", true},
		{"Eggs hatched.", " They did", true},
		{"Eggs hatched ", "at 8 °C", false},
		{"Eggs hatched", " at 8 °C", false},
		{"at 8.", "5 °C", false},
		{"eggs of L. ", "tessulatus", false},
		{"Alder et al. ", "found", false},
		{"(Alder, P. ", "Q. 1962)", false},
		{"hatched at 12. ", "Others", true},
		{"On eggs\n\n", "Methods", true},
		{"On eggs\n", "and mud", false},
		{"at 8 °C", "\n ", true},
		{"in 4 °C", " water", false},
	} {
		if got := ended(tt.before+tt.behind, len(tt.before)); got != tt.want {
			t.Errorf("%q | %q: %v", tt.before, tt.behind, got)
		}
	}
}

// A snippet never leaves its text, and its marks never leave the snippet.
func FuzzBest(f *testing.F) {
	f.Add("The cysts of B. ficta hatched.\nAt 15,5 °C", "cyst 15.5")
	f.Add("\xff\x00Ä a\u0301e", "ae|Ä")
	_, english := stem.New().Of("en")
	f.Fuzz(func(t *testing.T, text, asked string) {
		q, err := question.Parse(asked)
		if err != nil {
			return
		}
		needles, err := needle.Of(q, func(string) (needle.Meaning, error) { return needle.Meaning{}, nil })
		if err != nil {
			t.Fatal(err)
		}
		s := Best(text, nil, needle.NewFinder(needles).Places(text, english), func(ingest.Section) float64 { return 1 })
		if s.Start < 0 || s.Start+len(s.Text) > len(text) || spaced(text[s.Start:s.Start+len(s.Text)]) != s.Text {
			t.Fatalf("%q: snippet %+v", text, s)
		}
		last := -1
		for _, m := range s.Marks {
			if m.Start <= last || m.End <= m.Start || m.End > len(s.Text) {
				t.Fatalf("%q: marks %v", text, s.Marks)
			}
			last = m.End
		}
	})
}
