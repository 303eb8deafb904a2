package prose

import (
	"testing"
)

func TestBond(t *testing.T) {
	v := Vocabulary{}
	v.Learn("The temperature of a cold-moist period in sandiegonensis; non-native eggs", false, false)
	for _, c := range []struct {
		line, next string
		want       Bond
	}{
		{"the tempera-", "ture of", ByMerger},
		{"a cold-", "moist period", BySticky},
		{"the hiber-", "nation of", ByMerger},
		{"non-", "native eggs", BySticky},
		{"pre-", "and post-treatment", BySpace},
		{"Vor-", "und Nachbehandlung", BySpace},
		{"the San-", "Diego pools", BySticky},
		{"between 5-", "10 °C", BySticky},
		{"between 5–", "10 °C", BySticky},
		{"a dash -", "and more", BySpace},
		{"frozen at −", "18 °C", BySticky},
		{"in the dark −", "and then", BySpace},
		{"from 10", "–20 °C", BySticky},
		{"from 10", "– and more", BySpace},
		{"no hyphen", "here", BySpace},
		{"state-of-the-", "art method", BySticky},
		{"of room-tempera-", "ture water", ByMerger},
	} {
		if got := v.BondOf(c.line, c.next); got != c.want {
			t.Errorf("%q + %q: %v, want %v", c.line, c.next, got, c.want)
		}
	}
}
