package needle

import (
	"testing"

	"hatchlore/query/index/question"
	"hatchlore/query/index/stem"
)

// noNames is a book of names with none in it.
func noNames(string) (Meaning, error) { return Meaning{}, nil }

// Every item of a question can be looked up.
func FuzzNeedles(f *testing.F) {
	for _, s := range []string{`cold "the dry period"|freeze -frozen`, "F. umbrosa pre-hatch", `"der" the|Ä`} {
		f.Add(s)
	}
	langs := stem.New()
	f.Fuzz(func(t *testing.T, s string) {
		q, err := question.Parse(s)
		if err != nil {
			return
		}
		needles, err := Of(q, noNames)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range needles {
			for lang, a := range langs {
				seqs, _ := n.Sequences(a)
				for _, seq := range seqs {
					if len(seq) == 0 || len(seq[0]) == 0 || len(seq[len(seq)-1]) == 0 {
						t.Fatalf("%q in %s: sequence %q starts or ends with nothing", s, lang, seq)
					}
				}
			}
		}
	})
}
