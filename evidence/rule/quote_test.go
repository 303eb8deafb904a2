package rule

import (
	"testing"

	"hatchlore/evidence"
)

// A quote says what happened: half a sentence that breaks off before it would
// mislead whoever reads no further.
func TestQuoteHoldsTheOutcome(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct {
		text    string
		factor  evidence.Factor
		bearing evidence.Bearing
		quote   string
	}{
		{"At 1,200 µS/cm the eggs emerged but no nauplius came free.", evidence.Conductivity, evidence.Prevents, "At 1,200 µS/cm the eggs emerged but no nauplius came free"},
		{"The dishes stood at 12 °C, and most eggs hatched within a week.", evidence.WarmTemperature, evidence.Favours, "The dishes stood at 12 °C, and most eggs hatched within a week"},
		{"At 12 °C 40 % of the eggs hatched, and at 25 °C none did.", evidence.WarmTemperature, evidence.Favours, "At 12 °C 40 % of the eggs hatched"},
	} {
		found := false
		for _, c := range set.Match(document("Triops", x.text)) {
			if c.Factor == x.factor && c.Bearing == x.bearing {
				found = true
				if c.Quote != x.quote {
					t.Errorf("%q: %s %s quotes %q", x.text, c.Factor, c.Bearing, c.Quote)
				}
			}
		}
		if !found {
			t.Errorf("%q: no claim %s %s", x.text, x.factor, x.bearing)
		}
	}
}
