package query

import (
	"testing"

	"hatchlore/evidence"
	"hatchlore/species/value"
)

func TestSetValue(t *testing.T) {
	for _, tt := range []struct {
		factor       evidence.Factor
		printed, now string // now "" for a refusal
	}{
		{evidence.WarmTemperature, "50 °F", "10 °C"},
		{evidence.WarmTemperature, "10–15 °C", "10–15 °C"},
		{evidence.ColdLength, "at least 30 days", "≥ 30 d"},
		{evidence.PH, "7.2", "7.2"},
		{evidence.WarmTemperature, "30 days", ""},
		{evidence.WarmTemperature, "10", ""},
		{evidence.WarmTemperature, "10 °C and 20 °C", ""},
		{"", "10 °C", ""},
	} {
		c := evidence.Claim{Factor: tt.factor}
		err := SetValue(&c, tt.printed)
		if got := value.Of(c); (err != nil) != (tt.now == "") || err == nil && got != tt.now {
			t.Errorf("%s %q: %q, %v", tt.factor, tt.printed, got, err)
		}
	}
	c := evidence.Claim{Factor: evidence.Drying, Low: num(3), High: num(3), Unit: "d"}
	if err := SetValue(&c, " "); err != nil || c.Low != nil || c.Unit != "" {
		t.Errorf("taking a number away: %+v, %v", c, err)
	}
}
