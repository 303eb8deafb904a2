package witness_test

import (
	"testing"

	"hatchlore/evidence"
	"hatchlore/species/speciestest"
	"hatchlore/species/witness"
)

func TestEchoes(t *testing.T) {
	for cited, want := range map[string]string{
		"Alder (1960)":                     "alder",
		"(Birch & Cole 1975b; Fern 1950)":  "birch",
		"van der Dogtwo, 2001":             "dogtwo",
		"(Birch & Cole 1975; Alder 1960)":  "alder",
		"Alder 1961":                       "",
		"Bramkotter (1983)":                "fir",
		"BRAMKOETTER 1983":                 "fir",
		"[12]":                             "",
		"J. Alder, personal communication": "",
	} {
		c := evidence.Claim{Secondhand: true, Cited: cited}
		if got := witness.Shelve(speciestest.Library()).Echoes(c); got != want {
			t.Errorf("echoes(%q) = %q, want %q", cited, got, want)
		}
	}
}
