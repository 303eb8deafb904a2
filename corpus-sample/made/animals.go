package made

import (
	"slices"
	"strings"
)

// animal is an invented species.
type animal struct {
	current string
	old     string // an older name, "" for most
}

// animals is how many species there are. Genera with the same first letter and
// species with the same epithet are many, so that a short name is ambiguous.
const animals = 240

func animalOf(n int) animal {
	n = (n*7 + n/animals) % animals
	genera, epithets := genera(), strings.Fields("umbrosa pallida nivalis gelida vernalis lutosa palustris tarda serotina obscura")
	a := animal{current: genera[n%len(genera)] + " " + epithets[n/len(genera)]}
	if n%5 == 0 {
		a.old = "Prisco" + strings.ToLower(a.current)
	}
	return a
}

// Animal returns the current name of the animal that the paper of a number is
// about.
func Animal(n int) string { return animalOf(n).current }

func genera() []string {
	var out []string
	for _, first := range strings.Fields("Ficto Fabulo Nusqua Imagino Commento Somnio") {
		for _, second := range strings.Fields("caris lepis branchus limna") {
			out = append(out, first+second)
		}
	}
	return out
}

// Genera returns the genera, by name.
func Genera() []string {
	g := genera()
	slices.Sort(g)
	return g
}

// Synonyms returns the older names.
func Synonyms() []Synonym {
	seen := map[Synonym]bool{}
	for n := range animals {
		if a := animalOf(n); a.old != "" {
			seen[Synonym{a.old, a.current}] = true
		}
	}
	var out []Synonym
	for s := range seen {
		out = append(out, s)
	}
	slices.SortFunc(out, func(a, b Synonym) int { return strings.Compare(a.Old, b.Old) })
	return out
}

// shortened returns a name with the first letter of its genus.
func shortened(taxon string) string {
	_, epithet, _ := strings.Cut(taxon, " ")
	return taxon[:1] + ". " + epithet
}
