package taxon

import (
	"strings"
	"testing"
	"time"

	"hatchlore/cmd/internal/listing"
	"hatchlore/evidence"
	"hatchlore/evidence/trial/bench"
	"hatchlore/query"
	"hatchlore/species/conflict"
	"hatchlore/species/table"
)

// Words out of papers cannot become markup, in whichever part of the sheet
// they stand.
func TestSpeciesSheetEscapes(t *testing.T) {
	const evil = `<script>alert(1)</script> | [x](javascript:1) *b* ` + "`c`"
	low := 8.0
	claim := evidence.Claim{ID: "a", Paper: "p", Page: 1, Taxon: evil, Factor: evidence.WarmTemperature, Bearing: evidence.Favours,
		Low: &low, High: &low, Unit: "degC", Printed: evil, Quote: evil, Cited: evil, Secondhand: true}
	row := table.Row{Claim: claim, Value: evil, Citation: evil, Name: evil, Marks: []string{"second-hand"}}
	dispute := conflict.Conflict{ID: "c", Taxon: evil, Factor: evidence.WarmTemperature, Kind: conflict.Opposed, Question: evil,
		Sides: []conflict.Side{{Value: evil, Says: []conflict.Saying{{Citation: evil, Paper: "p", Page: 1, Quote: evil}}}}, Reasons: []conflict.Reason{{Kind: conflict.Population, Note: evil}}}
	s := query.Sheet{
		Taxon: evil, Others: []string{evil}, Papers: 1, Cautions: []string{evil},
		Conditions: []query.Condition{{Factor: evidence.WarmTemperature, Told: []query.Effect{{Bearing: evidence.Favours, Values: []string{evil}, Sources: []int{1}}}, Sure: evil, Rows: []table.Row{row}}},
		Disputes:   query.Disputes{Taxon: evil, Conflicts: []conflict.Conflict{dispute}},
		Sources:    []query.Source{{Citation: evil, Full: evil}},
	}
	p := newSheetPage(s, time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC), bench.A4)
	for format, banned := range map[string][]string{
		listing.HTML:   {"<script", "</script"},
		formatMarkdown: {"<script", "[x](", "*b*", "`c`", "> |"},
	} {
		var b strings.Builder
		if err := p.write(&b, format); err != nil {
			t.Fatal(err)
		}
		out := b.String()
		for _, x := range banned {
			if strings.Contains(out, x) {
				t.Errorf("%s: %q got through", format, x)
			}
		}
		if strings.Count(out, "alert(1)") < 10 {
			t.Errorf("%s: words are missing: %d of them", format, strings.Count(out, "alert(1)"))
		}
		if !strings.Contains(out, "1 March 2026") {
			t.Errorf("%s: no day", format)
		}
	}
}

func TestSourceNumbers(t *testing.T) {
	for want, ns := range map[string][]int{
		"[3]": {3}, "[1, 2]": {1, 2}, "[1 to 3]": {1, 2, 3}, "[1, 3, 4, 7 to 9]": {1, 3, 4, 7, 8, 9},
	} {
		if got := sourceNumbers(ns); got != want {
			t.Errorf("%v: %s, want %s", ns, got, want)
		}
	}
}
