package reference

import (
	"fmt"
	"strings"
	"testing"
)

// page builds lines from "size|text"; a size with * is bold. Lines stand 14
// points apart.
func page(spec string) []Line {
	var out []Line
	for i, l := range strings.Split(strings.TrimSpace(spec), "\n") {
		size, text, _ := strings.Cut(strings.TrimSpace(l), "|")
		line := Line{Text: text, X: 40, Y: 30 + 14*float64(i), Bold: strings.HasSuffix(size, "*")}
		fmt.Sscanf(size, "%g", &line.Size)
		if line.Size == 0 {
			line.X, line.Y = 0, 0
		}
		out = append(out, line)
	}
	return out
}

func showRecord(r Record) string {
	var a []string
	for _, x := range r.Authors {
		a = append(a, strings.TrimSpace(x.Given+"/"+x.Family))
	}
	return fmt.Sprintf("%s | %s | %d | %s %s %s | %s", r.Title, strings.Join(a, ", "), r.Year, r.Journal, r.Volume, r.Pages, r.DOI)
}

// The pages are made up: no such paper, author or journal exists.
var firstPages = []struct{ name, spec, want string }{
	{"journal article", `
		8|Journal of Small Waters 12: 101–117 (1987)
		9|RESEARCH ARTICLE
		18*|Cold and drought in the eggs of
		18*|Testus inventus from two moors
		11|Joanna K. Hallow¹,*, Anders Birk² and Petra van der Moor¹,²
		8|¹ Institute of Pools, University of Nowhere
		10|Abstract
		10|Eggs were held cold and moist for up to ninety days before they were wetted again in spring.
		10|They hatched after that, as others found in 1962 and again in 1974, in most of the dishes.`,
		"Cold and drought in the eggs of Testus inventus from two moors | Joanna K./Hallow, Anders/Birk, Petra/van der Moor | 1987 | Journal of Small Waters 12 101–117 | "},
	{"banner larger than the title", `
		22|Small Waters
		16*|How long must an egg be cold? A trial with Testus inventus
		11|Joanna Hallow & Anders Birk
		10|Published: 3 May 2011
		8|https://doi.org/10.1234/SW.2011.
		8|0042
		10|SUMMARY
		10|Eggs were held cold and moist for up to ninety days before they were wetted again in spring.`,
		"How long must an egg be cold? A trial with Testus inventus | Joanna/Hallow, Anders/Birk | 2011 |    | 10.1234/sw.2011.0042"},
	{"a report over years", `
		9|Pool Agency · Report 17-04 · March 2017
		18*|Salvage and rearing of Testus inventus, 2014–
		18*|2016
		11|Prepared by Hester Hallow and Tobias Birk
		12*|Summary
		10|Soil with eggs was salvaged before the road was built and kept dry for fourteen months.
		10|In the next winter four hundred eggs were hatched to see whether the soil was alive.`,
		"Salvage and rearing of Testus inventus, 2014–2016 | Hester/Hallow, Tobias/Birk | 2017 |    | "},
	{"a society's bulletin", `
		8|Mitteilungen der Tümpelfreunde, Heft 4, 1988
		16*|Beobachtungen zum Schlupf von Testus inventus
		10|Von Eike Birk, Moorhausen
		10|Seit sechs Jahren besuche ich die Wiesen zu jeder Jahreszeit, und immer leben dort diese Tiere.
		10|Im Herbst entnahm ich nassen Schlamm und bewahrte ihn im Keller auf, bis der Winter kam.`,
		"Beobachtungen zum Schlupf von Testus inventus | Eike/Birk | 1988 |    | "},
	{"years in a table", `
		18*|Three winters with Testus inventus
		11|Merrin Birk
		10|Abstract
		10|We have kept the shrimp for three winters, and members share the soil with leave only.
		10|2019
		10|2020
		10|2021
		10|Six weeks of drying and cool water did best, as the table of the last years has it above.`,
		"Three winters with Testus inventus | Merrin/Birk | 0 |    | "},
	{"its own citation", `
		20*|Eggs in mud: a long wait
		11|J. Hallow, A. Birk
		9|Citation: Hallow J, Birk A (2015) Eggs in mud: a
		9|long wait. Pool Letters 10: 5–19.
		9|Received: December 8, 2014
		10|Eggs were held cold and moist for up to ninety days before they were wetted again in spring.`,
		"Eggs in mud: a long wait | J./Hallow, A./Birk | 2015 | Pool Letters 10 5–19 | "},
	{"capitals and by", `
		14*|THE EGGS OF TESTUS INVENTUS IN DRY YEARS
		10|By J. K. HALLOW
		9|(Received 4 June 1930)
		10|INTRODUCTION
		10|Eggs were held cold and moist for up to ninety days before they were wetted again in spring.`,
		"THE EGGS OF TESTUS INVENTUS IN DRY YEARS | J. K./Hallow | 1930 |    | "},
	{"author with affiliation", `
		16*|Raising the invented shrimp
		10|Petra Moor, Keepers' Circle of Nowhere
		10|Second printing, 1988
		12|What this leaflet is for
		10|Eggs were held cold and moist for up to ninety days before they were wetted again in spring.`,
		"Raising the invented shrimp | Petra/Moor | 1988 |    | "},
	{"german", `
		9|Blätter für Tümpel 11, 40–42
		15*|Zum Schlupf von Testus inventus aus Dauereiern
		10|Ilse Hällow und Anders Birk
		10|Eingegangen am 17. Januar 1983
		10|Zusammenfassung
		10|Dauereier lagen neunzig Tage feucht und kalt, bevor sie im Frühjahr wieder gewässert wurden.`,
		"Zum Schlupf von Testus inventus aus Dauereiern | Ilse/Hällow, Anders/Birk | 1983 | Blätter für Tümpel 11 40–42 | "},
	{"names in a row", `
		17|A catalogue of invented pools
		12|Joanna Hallow Anders Birk Petra Moor
		10|Abstract
		10|Eggs were held cold and moist for up to ninety days before they were wetted again in spring.`,
		"A catalogue of invented pools | Joanna/Hallow, Anders/Birk, Petra/Moor | 0 |    | "},
	{"plain text", `
		|Pool Letters 3: 5–9 (1999)
		|Two kinds of egg in one clutch
		|Joanna Hallow and Anders Birk
		|
		|Abstract
		|Eggs were held cold.`,
		"Two kinds of egg in one clutch | Joanna/Hallow, Anders/Birk | 1999 | Pool Letters 3 5–9 | "},
	{"nothing", "", " |  | 0 |    | "},
}

func TestFirstPage(t *testing.T) {
	for _, c := range firstPages {
		t.Run(c.name, func(t *testing.T) {
			if got := showRecord(FirstPage(page(c.spec))); got != c.want {
				t.Errorf("\n got %s\nwant %s", got, c.want)
			}
		})
	}
}

func FuzzFirstPage(f *testing.F) {
	for _, c := range firstPages {
		f.Add(c.spec)
	}
	f.Fuzz(func(t *testing.T, spec string) {
		lines := page(spec)
		r := FirstPage(lines)
		if r.Year != 0 && (r.Year < 1700 || r.Year > 2099) {
			t.Fatalf("year %d", r.Year)
		}
		for _, a := range r.Authors {
			if a.Family == "" {
				t.Fatalf("an author without a name: %q", r.Authors)
			}
		}
		if Citation(r) == "" || Key(r, func(string) bool { return false }) == "" {
			t.Fatalf("no citation or key for %+v", r)
		}
	})
}
