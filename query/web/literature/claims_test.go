package literature

import (
	"net/url"
	"reflect"
	"testing"

	"hatchlore/evidence"
)

// A form sent unchanged amends nothing: the numbers stay as they were read.
func TestAmendKeepsWhatWasLeft(t *testing.T) {
	low, high := 12.0, 15.0
	c := evidence.Claim{Factor: evidence.WarmTemperature, Bearing: evidence.Favours, Low: &low, High: &high, Unit: "degC", Printed: "between 12 and 15",
		Taxon: "Ficta umbrosa", Secondhand: true, Cited: "(Alder 1960)", Inferred: true}
	was := c
	err := amend(&c, url.Values{"was": {c.Printed}, "printed": {c.Printed}, "factor": {string(c.Factor)}, "bearing": {string(c.Bearing)},
		"taxon": {c.Taxon}, "cited": {c.CitedSource()}})
	if err != nil || !reflect.DeepEqual(c, was) {
		t.Errorf("%+v, %v", c, err)
	}
}

func TestBare(t *testing.T) {
	for cited, want := range map[string]string{
		"(Alder 1960)": "Alder 1960", "(Alder 1960; Birch 1961)": "Alder 1960; Birch 1961",
		"Alder (1960)": "Alder (1960)", "(Alder) (1960)": "(Alder) (1960)", "": "",
	} {
		if got := bare(cited); got != want {
			t.Errorf("%q is shown as %q, want %q", cited, got, want)
		}
	}
}
