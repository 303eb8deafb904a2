package taxon

import (
	"testing"

	"hatchlore/evidence"
	"hatchlore/species/table"
)

func TestRangeChart(t *testing.T) {
	num := func(v float64) *float64 { return &v }
	row := func(b evidence.Bearing, low, high *float64, unit string) table.Row {
		return table.Row{Claim: evidence.Claim{Bearing: b, Low: low, High: high, Unit: unit}}
	}
	rows := []table.Row{
		row(evidence.Favours, num(0), num(10), "degC"),
		row(evidence.Prevents, num(20), nil, "degC"),
		row(evidence.Indifferent, nil, num(10), "degC"),
		row(evidence.Reported, num(5), num(5), "degC"),
		row(evidence.Favours, num(5), num(5), "mg/L"),
		row(evidence.Favours, nil, nil, ""),
	}
	c, ok := chartOf(rows, 11)
	if !ok || c.unit != "degC" || c.log {
		t.Fatalf("%+v %v", c, ok)
	}
	if got, want := c.scale(), "0·····20 °C"; got != want {
		t.Errorf("scale %q, want %q", got, want)
	}
	for i, want := range []string{"●━━━━●·····", "··········×", "◂────○·····", "···|·······", "", ""} {
		if got := c.bar(rows[i].Claim); got != want {
			t.Errorf("bar %d is %q, want %q", i, got, want)
		}
	}
	if _, ok := chartOf(rows[3:4], 11); ok {
		t.Error("a chart of one value")
	}
	wide := []table.Row{row(evidence.Favours, num(10), num(1000), "uS/cm"), row(evidence.Favours, num(100), num(100), "uS/cm")}
	c, _ = chartOf(wide, 21)
	if got, want := c.scale(), "10·log·····1000 µS/cm"; got != want || !c.log {
		t.Errorf("scale %q, want %q", got, want)
	}
	if got, want := c.bar(wide[1].Claim), "··········●··········"; got != want {
		t.Errorf("bar %q, want %q", got, want)
	}
	// Ends that do not fit beside each other are written as a range.
	if got, want := (rangeChart{cells: 5, unit: "uS/cm", low: 10, high: 1000}).scale(), "10–1000 µS/cm"; got != want {
		t.Errorf("narrow scale %q, want %q", got, want)
	}
}
