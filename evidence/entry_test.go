package evidence

import (
	"encoding/json"
	"testing"
)

func TestEntriesAsJSON(t *testing.T) {
	for _, c := range []struct {
		e    Entries
		want string
	}{
		{nil, `[]`},
		{Entries{}, `[]`},
		{Entries{{3, "Hallow: J. (1987)"}, {12, "[12] Birk"}}, `["3: Hallow: J. (1987)","12: [12] Birk"]`},
	} {
		b, err := json.Marshal(c.e)
		if err != nil || string(b) != c.want {
			t.Errorf("%v: %s, %v, want %s", c.e, b, err, c.want)
		}
		var again Entries
		if err := json.Unmarshal(b, &again); err != nil || len(again) != len(c.e) {
			t.Fatalf("%s: %v, %v", b, again, err)
		}
		for i := range again {
			if again[i] != c.e[i] {
				t.Errorf("%v came back as %v", c.e[i], again[i])
			}
		}
	}
	var e Entry
	for _, bad := range []string{"", "Hallow", "x: Hallow", "3:Hallow"} {
		if err := e.UnmarshalText([]byte(bad)); err == nil {
			t.Errorf("%q was read as %v", bad, e)
		}
	}
}

// What was read of a source goes with the words that it was read from.
func TestCite(t *testing.T) {
	c := Claim{Secondhand: true, Cited: "(Hallow 1987)", Entries: Entries{{3, "Hallow"}}}
	c.Cite("(Hallow 1987)")
	if len(c.Entries) != 1 {
		t.Error("the same words lost their entry")
	}
	c.Cite("Birk 1990")
	if len(c.Entries) != 0 || !c.Secondhand {
		t.Errorf("other words: %+v", c)
	}
	if c.Cite(""); c.Secondhand || c.Cited != "" {
		t.Errorf("the paper's own: %+v", c)
	}
}
