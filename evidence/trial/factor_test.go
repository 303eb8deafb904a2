package trial

import (
	"fmt"
	"strings"
	"testing"
)

func TestParseFactor(t *testing.T) {
	tests := []struct{ in, want, err string }{
		{"drying=14,0", "[0 14]", ""},
		{"drying=14", "[0 14]", ""},
		{"freezing=-18,none", "[none -18]", ""},
		{"freezing=-18", "[none -18]", ""},
		{"trigger=carbon-dioxide", "[flooding carbon-dioxide]", ""},
		{"incubation-temperature=12", "[12]", ""},
		{"light=dark,16:8", "[dark 16:8]", ""},
		{"light=0,12", "[dark 12]", ""},
		{"drying", "", "no levels"},
		{"drying=14,", "", "an empty word is no level"},
		{"sun=1,2", "", "no factor"},
		{"time-to-hatch=1,2", "", "counted, not set"},
		{"drying=1,x", "", "no level of drying"},
		{"drying=1,1", "", "twice"},
		{"drying=-3,1", "", "outside what can be set"},
		{"drying=1,2,3,4,5,6,7,8,9,10,11,12,13", "", "at most 12"},
		{"drying=nan,1", "", "no level"},
		{"light=dark,1:", "", "no level of light"},
	}
	for _, tt := range tests {
		f, err := ParseFactor(tt.in)
		switch {
		case tt.err != "" && (err == nil || !strings.Contains(err.Error(), tt.err)):
			t.Errorf("%s: got error %v, want …%s…", tt.in, err, tt.err)
		case tt.err == "" && err != nil:
			t.Errorf("%s: %v", tt.in, err)
		case tt.err == "" && fmt.Sprint(f.Levels) != tt.want:
			t.Errorf("%s: got %v, want %s", tt.in, f.Levels, tt.want)
		}
	}
}

func FuzzParseFactor(f *testing.F) {
	for _, s := range []string{"drying=0,14", "freezing=none,-18", "light=dark,12:12", "trigger=carbon-dioxide", "ph=1e400,7"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := ParseFactor(s)
		if err != nil {
			return
		}
		var words []string
		for _, l := range got.Levels {
			words = append(words, l.String())
		}
		again, err := ParseFactor(string(got.ID) + "=" + strings.Join(words, ","))
		if err != nil || fmt.Sprint(again) != fmt.Sprint(got) {
			t.Errorf("%q is read as %v, which is read as %v (%v)", s, got, again, err)
		}
	})
}
