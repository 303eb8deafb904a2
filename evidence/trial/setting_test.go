package trial

import (
	"encoding/json"
	"fmt"
	"testing"

	"hatchlore/evidence"
)

func TestSettingWords(t *testing.T) {
	tests := []struct {
		s          Setting
		unit, want string
	}{
		{Num(14), "d", "14 d"},
		{Num((60 - 32) / 1.8), "degC", "15.556 °C"},
		{Num(-18), "degC", "-18 °C"},
		{Num(1500000), "uS/cm", "1500000 µS/cm"},
		{Num(7.25), "1", "7.25"},
		{Num(30), "%sat", "30 % saturation"},
		{Cat("dark"), "h", "dark"},
	}
	for _, tt := range tests {
		if got := tt.s.In(tt.unit); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
		b, err := json.Marshal(tt.s)
		var back Setting
		if err != nil || json.Unmarshal(b, &back) != nil || back != tt.s {
			t.Errorf("%s reads back as %v", b, back)
		}
	}
	var s Setting
	if json.Unmarshal([]byte(`[1]`), &s) == nil {
		t.Error("a list is a level")
	}
}

// The need for a treatment is told by the levels on which its sides stand, else by
// any level of it; a trigger by its own alone.
func TestNeedGroups(t *testing.T) {
	n := func(v float64) *float64 { return &v }
	dry := Question{Kind: KindNeed, Factor: evidence.Drying, Levels: []Level{{Value: n(28), Category: "required", Side: 1}, {Value: n(0), Category: "not-required", Side: 2}}}
	wet := Question{Kind: KindNeed, Factor: evidence.Trigger, Levels: []Level{{Category: "low-oxygen", Side: 1}, {Category: "low-oxygen", Side: 2}}}
	for _, tt := range []struct {
		q             Question
		levels        []Setting
		bare, treated string
	}{
		{dry, []Setting{Num(0), Num(3), Num(28)}, "[0]", "[28]"},
		{dry, []Setting{Num(0), Num(14), Num(60)}, "[0]", "[14 60]"},
		{dry, []Setting{Num(7), Num(28)}, "[]", "[28]"},
		{wet, []Setting{Cat("flooding"), Cat("low-oxygen"), Cat("carbon-dioxide")}, "[flooding]", "[low-oxygen]"},
		{wet, []Setting{Cat("flooding"), Cat("carbon-dioxide")}, "[flooding]", "[]"},
	} {
		f := Factor{ID: tt.q.Factor, Levels: tt.levels}
		bare, treated := f.NeedGroups(tt.q.Sides(f))
		if fmt.Sprint(bare) != tt.bare || fmt.Sprint(treated) != tt.treated {
			t.Errorf("%s of %v: bare %v, treated %v, want %s and %s", tt.q.Factor, tt.levels, bare, treated, tt.bare, tt.treated)
		}
	}
}
