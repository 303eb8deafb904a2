package trial

import (
	"strings"
	"testing"
)

func TestParseHeld(t *testing.T) {
	tests := []struct {
		in, want string
		treats   bool
		err      string
	}{
		{"stratification-length=60", "60 d", true, ""},
		{"drying=none", "0 d", false, ""},
		{"trigger=carbon-dioxide", "carbon-dioxide", true, ""},
		{"incubation-temperature=12", "12 °C", false, ""},
		{"stratification-length", "", false, "has no setting"},
		{"stratification-length=", "", false, "an empty word is no level of stratification-length"},
		{"stratification-length=30,60", "", false, "share one setting of stratification-length, not 2"},
		{"drying=-3", "", false, "outside what can be set"},
		{"trigger=song", "", false, "no level of trigger"},
		{"sun=1", "", false, "no factor"},
	}
	for _, tt := range tests {
		x, err := ParseHeld(tt.in)
		switch {
		case tt.err != "" && (err == nil || !strings.Contains(err.Error(), tt.err)):
			t.Errorf("%s: got error %v, want …%s…", tt.in, err, tt.err)
		case tt.err == "" && err != nil:
			t.Errorf("%s: %v", tt.in, err)
		case tt.err == "" && (x.Setting.In(x.Unit) != tt.want || x.Treats() != tt.treats || x.Why != AsAsked):
			t.Errorf("%s: got %+v, treats %v", tt.in, x, x.Treats())
		}
	}
}
