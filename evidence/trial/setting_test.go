package trial

import (
	"encoding/json"
	"testing"
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
