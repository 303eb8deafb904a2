package witness_test

import (
	"fmt"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/species/speciestest"
	"hatchlore/species/witness"
)

func TestTwins(t *testing.T) {
	author := func(key string, year int, who ...string) witness.Paper {
		return witness.Paper{Key: key, Year: year, Authors: who}
	}
	lib := witness.Library{
		"note":   author("note", 1960, "Alder, Jo"),
		"thesis": author("thesis", 1962, "Alder, J. M.", "Birch, Ann"),
		"other":  author("other", 1963, "Cedar, Liv"),
		"kin":    author("kin", 1964, "Alder, Wim"),
		"later":  author("later", 1970, "Alder, Jo"),
	}
	methods := "\nP cold favours 30\nP temp favours 8\nP temp favours 12\nP cond favours 90\nP fraction favours 0\nP fraction favours 12"
	for _, tt := range []struct {
		name, claims string
		want         string // later=first figures/sentences
	}{
		{"the same figures", speciestest.Outcomes("note") + speciestest.Outcomes("thesis"), "thesis=note 5/0"},
		{"of three the oldest is first", speciestest.Outcomes("later") + speciestest.Outcomes("note") + speciestest.Outcomes("thesis"), "thesis=note 5/0 later=note 5/0"},
		{"another author", speciestest.Outcomes("note") + speciestest.Outcomes("other"), ""},
		{"another person of that name", speciestest.Outcomes("note") + speciestest.Outcomes("kin"), ""},
		{"another animal", speciestest.Outcomes("note") + strings.ReplaceAll(speciestest.Outcomes("thesis"), "favours", "favours T:Vernocephala_alba"), ""},
		{"the same methods", strings.ReplaceAll(methods, "P ", "note ") + strings.ReplaceAll(strings.Replace(methods, "12", "77", 2), "P ", "later "), ""},
		{"cited figures", speciestest.Outcomes("note") + strings.ReplaceAll(speciestest.Outcomes("later"), "\nlater fraction favours", "\nlater fraction favours cite:Alder_1960"), ""},
	} {
		claims := speciestest.Claims(t, tt.claims)
		for i := range claims {
			claims[i].Quote = "x"
		}
		if got := sketchTwins(witness.Twins(claims, lib, nil)); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}

	// Nearly the same sentences, in fewer figures.
	said := func(paper, quote, what string) evidence.Claim {
		c := speciestest.Claims(t, paper+" "+what)[0]
		c.Quote = quote
		return c
	}
	worded := []evidence.Claim{
		said("note", "After 30 days in wet moss 31 per cent of the eggs hatched", "fraction favours 31"),
		said("note", "The moss was kept in a cellar at 8 °C throughout the winter", "temp favours 8"),
		said("thesis", "After 30 days in the wet moss 31 per cent of eggs hatched.", "fraction favours 31"),
		said("thesis", "The moss was kept in our cellar at 8 °C throughout the winter", "temp favours 8"),
	}
	if got := sketchTwins(witness.Twins(worded, lib, nil)); got != "thesis=note 2/2" {
		t.Errorf("the same words: %q", got)
	}

	// The keeper's word goes before the figures.
	judged := lib["thesis"]
	judged.Judged = true
	lib["thesis"] = judged
	claims := speciestest.Claims(t, speciestest.Outcomes("note")+speciestest.Outcomes("thesis"))
	if got := sketchTwins(witness.Twins(claims, lib, nil)); got != "" {
		t.Errorf("judged: %q", got)
	}
}

func sketchTwins(ts []witness.Twin) string {
	var out []string
	for _, x := range ts {
		out = append(out, fmt.Sprintf("%s=%s %d/%d", x.Later, x.First, x.Figures, x.Sentences))
	}
	return strings.Join(out, " ")
}
