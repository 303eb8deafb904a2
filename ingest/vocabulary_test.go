package ingest

import "testing"

func TestBond(t *testing.T) {
	v := vocabulary{}
	v.learn("The temperature of a cold-moist period in sandiegonensis; non-native eggs", false, false)
	for _, c := range []struct {
		line, next string
		want       bond
	}{
		{"the tempera-", "ture of", byMerger},
		{"a cold-", "moist period", bySticky},
		{"the hiber-", "nation of", byMerger},
		{"non-", "native eggs", bySticky},
		{"pre-", "and post-treatment", bySpace},
		{"Vor-", "und Nachbehandlung", bySpace},
		{"the San-", "Diego pools", bySticky},
		{"between 5-", "10 °C", bySticky},
		{"between 5–", "10 °C", bySticky},
		{"a dash -", "and more", bySpace},
		{"no hyphen", "here", bySpace},
		{"state-of-the-", "art method", bySticky},
	} {
		if got := v.bondOf(c.line, c.next); got != c.want {
			t.Errorf("%q + %q: %v, want %v", c.line, c.next, got, c.want)
		}
	}
}
