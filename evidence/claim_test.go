package evidence

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func num(v float64) *float64 { return &v }

func sound() Claim {
	return Claim{Page: 2, Start: 10, End: 24, Quote: "after 30 d at ", Factor: ColdLength, Bearing: Favours,
		Low: num(30), High: num(30), Unit: "d", Printed: "30 d", Score: 0.8}
}

func TestLint(t *testing.T) {
	check := func(name string, change func(*Claim), fields ...string) {
		t.Helper()
		c := sound()
		change(&c)
		var got []string
		for _, p := range c.Lint() {
			got = append(got, p.Field)
		}
		if diff := cmp.Diff(fields, got); diff != "" {
			t.Errorf("%s: problems (-want +got):\n%s", name, diff)
		}
	}
	check("sound", func(*Claim) {})
	check("open above", func(c *Claim) { c.High = nil })
	check("category alone", func(c *Claim) { c.Factor, c.Low, c.High, c.Unit, c.Category = Drying, nil, nil, "", "required" })
	check("light ratio", func(c *Claim) { c.Factor, c.Low, c.High, c.Unit, c.Category = Light, nil, nil, "", "14:10" })
	check("implied number needs no printed form", func(c *Claim) { c.Printed, c.Implied = "", true })
	check("no factor", func(c *Claim) { c.Factor = "mood" }, "factor")
	check("no bearing", func(c *Claim) { c.Bearing = "" }, "bearing")
	check("no page", func(c *Claim) { c.Page = 0 }, "page")
	check("no quote", func(c *Claim) { c.Quote = "" }, "quote")
	check("span and quote differ", func(c *Claim) { c.End++ }, "end")
	check("foreign unit", func(c *Claim) { c.Unit = "degC" }, "unit")
	check("no unit", func(c *Claim) { c.Unit = "" }, "unit")
	check("upside down", func(c *Claim) { c.Low = num(31) }, "high")
	check("foreign category", func(c *Claim) { c.Category = "flooding" }, "category")
	check("nothing said", func(c *Claim) { c.Low, c.High, c.Unit = nil, nil, "" }, "low")
	check("number out of nowhere", func(c *Claim) { c.Printed = "" }, "printed")
	check("entries", func(c *Claim) { c.Secondhand, c.Entries = true, Entries{{3, "Hallow 1987"}} })
	check("entries of nobody", func(c *Claim) { c.Entries = Entries{{3, "Hallow 1987"}} }, "entries")
	check("entry without words", func(c *Claim) { c.Secondhand, c.Entries = true, Entries{{0, "Hallow"}, {1, ""}} }, "entries", "entries")
	check("several at once", func(c *Claim) { c.Page, c.Score = -1, 2 }, "page", "score")
}

// The id must follow what is said and where, not what the file is called or
// which rule found it.
func TestMakeID(t *testing.T) {
	a := sound()
	same := sound()
	same.Source, same.Paper, same.Rule, same.Score = "moved/elsewhere.pdf", "other1999", "another-rule", 0.1
	if a.MakeID("h") != same.MakeID("h") {
		t.Error("id follows the file's name or the rule")
	}
	open := sound()
	open.High = nil
	for name, id := range map[string]string{"paper": a.MakeID("g"), "open end": open.MakeID("h")} {
		if id == a.MakeID("h") {
			t.Errorf("%s does not change the id", name)
		}
	}
}

func TestMeasures(t *testing.T) {
	for i, m := range Measures() {
		if m.Factor.Order() != i {
			t.Errorf("%s stands at %d, not %d", m.Factor, m.Factor.Order(), i)
		}
		if len(m.Units) == 0 && len(m.Categories) == 0 {
			t.Errorf("%s has neither unit nor category", m.Factor)
		}
		if m.Label == "" || strings.ToLower(m.Label[:1]) != m.Label[:1] {
			t.Errorf("%s: label %q", m.Factor, m.Label)
		}
	}
	if Factor("mood").Order() != len(Measures()) {
		t.Error("an unknown factor does not come last")
	}
}

func TestCitedSource(t *testing.T) {
	for cited, want := range map[string]string{
		"(Hallow 1987; Birk 1990)": "Hallow 1987; Birk 1990", "Hallow (1987)": "Hallow (1987)", "[12]": "12", "": "",
	} {
		if got := (Claim{Cited: cited}).CitedSource(); got != want {
			t.Errorf("%q: %q, want %q", cited, got, want)
		}
	}
}
