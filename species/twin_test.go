package species

import (
	"fmt"
	"strings"
	"testing"

	"hatchlore/evidence"
)

// outcomes of one experiment, as one paper tells them.
func outcomes5(paper string) string {
	return strings.NewReplacer("P ", paper+" ").Replace(`
P cold favours 30
P temp favours 8
P fraction favours 31
P fraction favours 58
P fraction favours 44
P fraction favours 0`)
}

func TestTwins(t *testing.T) {
	author := func(key string, year int, who ...string) Paper { return Paper{Key: key, Year: year, Authors: who} }
	lib := Library{
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
		{"the same figures", outcomes5("note") + outcomes5("thesis"), "thesis=note 5/0"},
		{"of three the oldest is first", outcomes5("later") + outcomes5("note") + outcomes5("thesis"), "thesis=note 5/0 later=note 5/0"},
		{"another author", outcomes5("note") + outcomes5("other"), ""},
		{"another person of that name", outcomes5("note") + outcomes5("kin"), ""},
		{"another animal", outcomes5("note") + strings.ReplaceAll(outcomes5("thesis"), "favours", "favours T:Vernocephala_alba"), ""},
		{"the same methods", strings.ReplaceAll(methods, "P ", "note ") + strings.ReplaceAll(strings.Replace(methods, "12", "77", 2), "P ", "later "), ""},
		{"cited figures", outcomes5("note") + strings.ReplaceAll(outcomes5("later"), "\nlater fraction favours", "\nlater fraction favours cite:Alder_1960"), ""},
	} {
		claims := claimsOf(t, tt.claims)
		for i := range claims {
			claims[i].Quote = "x"
		}
		if got := sketchTwins(Twins(claims, lib, nil)); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}

	// Nearly the same sentences, in fewer figures.
	said := func(paper, quote, what string) evidence.Claim {
		c := claimsOf(t, paper+" "+what)[0]
		c.Quote = quote
		return c
	}
	worded := []evidence.Claim{
		said("note", "After 30 days in wet moss 31 per cent of the eggs hatched", "fraction favours 31"),
		said("note", "The moss was kept in a cellar at 8 °C throughout the winter", "temp favours 8"),
		said("thesis", "After 30 days in the wet moss 31 per cent of eggs hatched.", "fraction favours 31"),
		said("thesis", "The moss was kept in our cellar at 8 °C throughout the winter", "temp favours 8"),
	}
	if got := sketchTwins(Twins(worded, lib, nil)); got != "thesis=note 2/2" {
		t.Errorf("the same words: %q", got)
	}

	// The keeper's word goes before the figures.
	judged := lib["thesis"]
	judged.Judged = true
	lib["thesis"] = judged
	claims := claimsOf(t, outcomes5("note")+outcomes5("thesis"))
	if got := sketchTwins(Twins(claims, lib, nil)); got != "" {
		t.Errorf("judged: %q", got)
	}
}

func sketchTwins(ts []Twin) string {
	var out []string
	for _, x := range ts {
		out = append(out, fmt.Sprintf("%s=%s %d/%d", x.Later, x.First, x.Figures, x.Sentences))
	}
	return strings.Join(out, " ")
}

// An experiment published twice is one witness, and a conflict says so.
func TestTwinsCountOnce(t *testing.T) {
	lib := Library{
		"note":   {Key: "note", Year: 1960, Authors: []string{"Alder, Jo"}},
		"thesis": {Key: "thesis", Year: 1962, Authors: []string{"Alder, Jo"}},
		"birch":  {Key: "birch", Year: 1975, Authors: []string{"Birch, Ann"}},
	}
	claims := claimsOf(t, outcomes5("note")+outcomes5("thesis")+"\nbirch cold prevents 30\nbirch cold favours 90")
	lib.Join(Twins(claims, lib, nil))
	for _, c := range Conflicts(claims, lib, nil) {
		if c.Factor != evidence.ColdLength {
			continue
		}
		if s := c.Sides[0]; len(s.Papers) != 2 || s.Firsthand != 1 {
			t.Errorf("%s", sketch(c))
		}
		for _, r := range c.Reasons {
			if r.Kind == Twice && r.Note == "Alder 1962 tells of the same experiment as Alder 1960 (5 equal figures): it counts once" {
				return
			}
		}
		t.Errorf("reasons %+v", c.Reasons)
		return
	}
	t.Error("no conflict on cold")
}
