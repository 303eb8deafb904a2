package rule

import (
	"strconv"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/syntax"
	"hatchlore/ingest"
)

// exampleDocument makes a document of a rule's example: "de: " chooses the
// language, and a text before an empty line is the title.
func exampleDocument(text string) *ingest.Document {
	lang := "en"
	if len(text) > 4 && text[2] == ':' && text[3] == ' ' {
		lang, text = text[:2], text[4:]
	}
	title, body, ok := strings.Cut(text, "\n\n")
	if !ok {
		title, body = "Untitled", text
	}
	doc := document(title, body)
	doc.Lang = lang
	return doc
}

// TestRules runs the two kinds of examples that every rule carries.
func TestRules(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range set.rules {
		for _, e := range r.Takes {
			found, fired := set.run(exampleDocument(e.Text))
			if !acted(fired, r.ID) {
				t.Errorf("%s does not act on %q; acted: %v", r.ID, e.Text, ids(fired))
			} else if !r.Silent && !claimed(found, r.ID, e) {
				t.Errorf("%s makes no claim %s %s of %q; claims: %s", r.ID, e.Bearing, e.Value, e.Text, listing(found))
			}
		}
		for _, text := range r.Leaves {
			if _, fired := set.run(exampleDocument(text)); acted(fired, r.ID) {
				t.Errorf("%s acts on %q", r.ID, text)
			}
		}
	}
}

func acted(fired []firing, id string) bool {
	for _, f := range fired {
		if f.rule == id {
			return true
		}
	}
	return false
}

func ids(fired []firing) (out []string) {
	for _, f := range fired {
		out = append(out, f.rule)
	}
	return out
}

func claimed(found []Explained, id string, e syntax.Example) bool {
	for _, f := range found {
		if f.Claim.Rule == id && string(f.Claim.Bearing) == e.Bearing && hasValue(f.Claim, e.Value) {
			return true
		}
	}
	return false
}

// hasValue reports whether c has the value of an example: a category, a
// number or LOW..HIGH.
func hasValue(c evidence.Claim, value string) bool {
	if c.Category == value && c.Low == nil && c.High == nil {
		return true
	}
	low, high, isRange := strings.Cut(value, "..")
	if !isRange {
		high = low
	}
	number := func(s string) *float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			return nil
		}
		return &v
	}
	a, b := number(low), number(high)
	return (a != nil || b != nil) && nearly(a, c.Low) && nearly(b, c.High)
}

func listing(found []Explained) string {
	var out []string
	for _, f := range found {
		c := f.Claim
		out = append(out, strings.Join([]string{c.Rule, string(c.Bearing), interval(c.Low, c.High), c.Category}, " "))
	}
	return strings.Join(out, "; ")
}
