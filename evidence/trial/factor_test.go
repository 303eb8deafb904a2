package trial

import (
	"fmt"
	"strings"
	"testing"
)

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
