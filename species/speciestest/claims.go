// Package speciestest makes up claims for the tests of the packages under species.
package speciestest

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/ingest"
	"hatchlore/species/fulltext"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// Library returns papers that are made up, as are their authors.
func Library() witness.Library {
	return witness.Library{
		"alder":  {Key: "alder", Authors: []string{"Alder, Jo"}, Year: 1960, Places: Places("North Fen")},
		"birch":  {Key: "birch", Authors: []string{"Birch, Ann", "Cole, Bo"}, Year: 1975, Places: Places("South Heath")},
		"cedar":  {Key: "cedar", Authors: []string{"Cedar, Liv", "Dunn, P", "East, R"}, Year: 1990},
		"dogtwo": {Key: "dogtwo", Authors: []string{"van der Dogtwo, M"}, Year: 2001, Places: Places("north fen")},
		"fir":    {Key: "fir", Authors: []string{"Bramkötter, I"}, Year: 1983},
		"elder":  {Key: "elder", Authors: []string{"Elder, K"}, Year: 1961, SameAs: "alder"},
	}
}

// Places are origins of the names of places, as of a paper that names each once.
func Places(names ...string) []fulltext.Origin {
	var out []fulltext.Origin
	for _, n := range names {
		out = append(out, fulltext.Origin{Place: n, Told: map[string]int{"": 1}})
	}
	return out
}

// Claims reads claims from lines such as
//
//	alder cold favours 30..45 hatching required cite:Birch_1975
//
// with the words after the bearing in any order: a range, a stage, a category,
// a citation that makes it second-hand, "T:Genus_epithet" for another taxon.
func Claims(t testing.TB, text string) []evidence.Claim {
	t.Helper()
	short := map[string]evidence.Factor{"cold": evidence.ColdLength, "chill": evidence.ColdTemperature, "dry": evidence.Drying, "freeze": evidence.Freezing, "temp": evidence.WarmTemperature,
		"cond": evidence.Conductivity, "o2": evidence.Oxygen, "light": evidence.Light, "trigger": evidence.Trigger, "time": evidence.TimeToHatch,
		"fraction": evidence.HatchingFraction, "ph": evidence.PH, "storage": evidence.StorageLength, "salt": evidence.Salinity}
	var out []evidence.Claim
	for i, line := range strings.Split(strings.TrimSpace(text), "\n") {
		w := strings.Fields(line)
		c := evidence.Claim{ID: fmt.Sprintf("c%d", i+1), Paper: w[0], Page: i + 1, Factor: short[w[1]], Bearing: evidence.Bearing(w[2]), Taxon: "Vernocephala umbrosa", Quote: line, Score: 0.9}
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

// MadeUp makes claims at random: few papers, values that often meet.
func MadeUp(r *rand.Rand, n int) []evidence.Claim {
	papers := []string{"alder", "birch", "cedar", "dogtwo", "elder", "fir"}
	measures := evidence.Measures()
	var out []evidence.Claim
	for i := range n {
		m := measures[r.IntN(len(measures))]
		c := evidence.Claim{ID: "r" + string(rune('A'+i%26)) + string(rune('a'+i/26%26)) + string(rune('a'+i/676%26)), Paper: papers[r.IntN(len(papers))], Page: 1 + r.IntN(9), Start: r.IntN(1000),
			Taxon: []string{"Vernocephala umbrosa", "Vernocephala nitida"}[r.IntN(2)], Factor: m.Factor, Bearing: value.Bearings()[r.IntN(4)],
			Stage: []evidence.Stage{"", "hatching", "emergence"}[r.IntN(3)]}
		if len(m.Units) > 0 && (len(m.Categories) == 0 || r.IntN(2) == 0) {
			low, high := float64(r.IntN(40)), float64(40+r.IntN(60))
			if r.IntN(3) > 0 {
				high = low
			}
			c.Low, c.High, c.Unit = &low, &high, m.Units[0]
		} else {
			c.Category = m.Categories[r.IntN(len(m.Categories))]
		}
		if r.IntN(4) == 0 {
			c.Secondhand, c.Cited = true, []string{"Alder 1960", "Fern 1950", "van der Dogtwo (2001)"}[r.IntN(3)]
		}
		out = append(out, c)
	}
	return out
}

// Outcomes are lines for [Claims] of one experiment, as one paper tells them.
func Outcomes(paper string) string {
	return strings.NewReplacer("P ", paper+" ").Replace(`
P cold favours 30
P temp favours 8
P fraction favours 31
P fraction favours 58
P fraction favours 44
P fraction favours 0`)
}

// TablePage makes a page of a paragraph and a table, cells parted by tabs.
func TablePage(before string, heads int, rows ...string) ingest.Page {
	p := ingest.Page{Number: 1, Text: before + "\n\n" + strings.Join(rows, "\n")}
	start := len(before) + 2
	b := ingest.Block{Kind: ingest.Table, Start: start, End: len(p.Text)}
	for i, r := range rows {
		row := ingest.Row{Head: i < heads}
		for _, c := range strings.Split(r, "\t") {
			row.Cells = append(row.Cells, ingest.Cell{Start: start, End: start + len(c)})
			start += len(c) + 1
		}
		b.Rows = append(b.Rows, row)
	}
	p.Blocks = []ingest.Block{{Kind: ingest.Paragraph, End: len(before)}, b}
	return p
}
