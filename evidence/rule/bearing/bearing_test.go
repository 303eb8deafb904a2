package bearing

import (
	"os"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/marked"
	"hatchlore/evidence/rule/syntax"
	"hatchlore/ingest"
	"hatchlore/species/name"
)

// words loads the cue words and groups of the program.
func words(t *testing.T) *marked.Vocabulary {
	t.Helper()
	v, err := marked.Load(os.DirFS(".."))
	if err != nil {
		t.Fatal(err)
	}
	const groups = "../rules/0-groups.rule"
	text, err := os.ReadFile(groups)
	if err != nil {
		t.Fatal(err)
	}
	file, err := syntax.Parse(groups, string(text))
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range file.Groups {
		if unknown := v.AddGroup(g.Name, g.Classes); unknown != "" {
			t.Fatalf("group %s: no class %s", g.Name, unknown)
		}
	}
	return v
}

// judged reads a text of one paragraph.
func judged(v *marked.Vocabulary, text string) *Judged {
	page := ingest.Page{Number: 1, How: ingest.ByText, Text: text, Blocks: []ingest.Block{{Kind: ingest.Paragraph, End: len(text)}}}
	doc := &ingest.Document{Source: "a.txt", Lang: "en", Pages: []ingest.Page{page}}
	return Judge(v.Mark(doc, name.NewScope("", text)))
}

// TestClauses: the bearings of all clauses of a text, in order; - where one says
// nothing.
func TestClauses(t *testing.T) {
	v := words(t)
	for text, want := range map[string]string{
		"The eggs hatched.":                                                "favours",
		"No egg hatched.":                                                  "prevents",
		"Light had no effect on the eggs.":                                 "indifferent",
		"The eggs were counted.":                                           "-",
		"At 10 °C the eggs hatched but at 20 °C none did.":                 "favours prevents",
		"We asked whether the eggs hatch in the dark.":                     "-",
		"The cold did not prevent hatching.":                               "favours",
		"The eggs did not hatch unless they had been dried.":               "favours",
		"Drying harmed the eggs. So did frost.":                            "prevents prevents",
		"Of the eggs at 4 °C 0 % hatched, of those at 12 °C 40 %.":         "prevents favours",
		"After ten days not an egg had hatched, and after twenty only two": "prevents favours",
	} {
		var got []string
		for _, s := range judged(v, text).Sentences {
			for _, c := range s.Clauses {
				if c.Bears == marked.Unsaid {
					got = append(got, "-")
				} else {
					got = append(got, string(c.Bears))
				}
			}
		}
		if s := strings.Join(got, " "); s != want {
			t.Errorf("%q: %s, want %s", text, s, want)
		}
	}
}

// TestOutcome: what is said to have happened under the last quantity of a text.
func TestOutcome(t *testing.T) {
	v := words(t)
	for _, c := range []struct {
		text     string
		want     evidence.Bearing
		borrowed bool
	}{
		{"The eggs hatched at 12 °C.", evidence.Favours, false},
		{"The eggs hatched at 10 but not at 20 °C.", evidence.Prevents, false},
		{"The dishes stood at 12 °C, and most eggs hatched.", evidence.Favours, true},
		{"The dishes stood at 12 °C.", marked.Unsaid, false},
	} {
		j := judged(v, c.text)
		s := j.Sentences[len(j.Sentences)-1]
		var last *marked.Target
		for _, t := range s.Targets {
			if t.Q != nil {
				last = t
			}
		}
		if b, borrowed := j.Outcome(s, last); b != c.want || borrowed != c.borrowed {
			t.Errorf("%q: %q, borrowed %t", c.text, b, borrowed)
		}
	}
}
