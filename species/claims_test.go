package species

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"hatchlore/evidence"
)

// The papers and the animal of these tests are made up.
var testLibrary = Library{
	"alder":  {Key: "alder", Authors: []string{"Alder, Jo"}, Year: 1960, Places: []string{"North Fen"}},
	"birch":  {Key: "birch", Authors: []string{"Birch, Ann", "Cole, Bo"}, Year: 1975, Places: []string{"South Heath"}},
	"cedar":  {Key: "cedar", Authors: []string{"Cedar, Liv", "Dunn, P", "East, R"}, Year: 1990},
	"dogtwo": {Key: "dogtwo", Authors: []string{"van der Dogtwo, M"}, Year: 2001, Places: []string{"north fen"}},
	"fir":    {Key: "fir", Authors: []string{"Bramkötter, I"}, Year: 1983},
	"elder":  {Key: "elder", Authors: []string{"Elder, K"}, Year: 1961, SameAs: "alder"},
}

// claimsOf reads claims from lines such as
//
//	alder cold favours 30..45 hatching required cite:Birch_1975
//
// with the words after the bearing in any order: a range, a stage, a category,
// a citation that makes it second-hand, "T:Genus_epithet" for another taxon.
func claimsOf(t testing.TB, text string) []evidence.Claim {
	t.Helper()
	short := map[string]evidence.Factor{"cold": evidence.ColdLength, "dry": evidence.Drying, "freeze": evidence.Freezing, "temp": evidence.WarmTemperature,
		"cond": evidence.Conductivity, "o2": evidence.Oxygen, "light": evidence.Light, "trigger": evidence.Trigger, "time": evidence.TimeToHatch,
		"fraction": evidence.HatchingFraction, "ph": evidence.PH, "storage": evidence.StorageLength, "salt": evidence.Salinity}
	var out []evidence.Claim
	for i, line := range strings.Split(strings.TrimSpace(text), "\n") {
		w := strings.Fields(line)
		c := evidence.Claim{ID: fmt.Sprintf("c%d", i+1), Paper: w[0], Page: i + 1, Factor: short[w[1]], Bearing: evidence.Bearing(w[2]), Taxon: "Vernocephala umbrosa", Quote: line}
		for _, x := range w[3:] {
			switch {
			case strings.HasPrefix(x, "cite:"):
				c.Secondhand, c.Cited = true, strings.ReplaceAll(x[5:], "_", " ")
			case strings.HasPrefix(x, "T:"):
				c.Taxon = strings.ReplaceAll(x[2:], "_", " ")
			case x == "emergence" || x == "hatching":
				c.Stage = evidence.Stage(x)
			case x == "rejected":
				c.Decision = evidence.Rejected
			case x[0] >= '0' && x[0] <= '9' && !strings.Contains(x, ":") || strings.HasPrefix(x, "..") || x[0] == '-':
				low, high, ranged := strings.Cut(x, "..")
				if !ranged {
					high = low
				}
				c.Low, c.High, c.Unit = number(t, low), number(t, high), c.Factor.Unit()
				c.Printed = x
			default:
				c.Category = x
			}
		}
		if c.Factor == "" {
			t.Fatalf("no factor in %q", line)
		}
		out = append(out, c)
	}
	return out
}

func number(t testing.TB, s string) *float64 {
	if s == "" {
		return nil
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return &v
}

// sketch prints a conflict in one line: kind factor: bearing value papers/firsthand | ...
func sketch(c Conflict) string {
	var sides []string
	for _, s := range c.Sides {
		sides = append(sides, fmt.Sprintf("%s %s %s/%d", s.Bearing, s.Value, strings.Join(s.Papers, "+"), s.Firsthand))
	}
	return fmt.Sprintf("%s %s: %s", c.Kind, c.Factor, strings.Join(sides, " | "))
}
