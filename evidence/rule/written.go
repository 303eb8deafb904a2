package rule

import (
	"slices"

	"hatchlore/evidence/rule/marked"
	"hatchlore/species/name"
)

// namesOf returns the names of a subject as claims of s show them, each once.
func (r *reading) namesOf(s *marked.Sentence, sub subject) []string {
	var out []string
	for _, n := range sub.names {
		if w := r.written(s, n); !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	if len(out) == 0 {
		out = []string{""}
	}
	return out
}

// written returns the names as claims show them: a genus alone gives way to
// its species where the title, or for an everyday word the text around, has
// just one of that genus.
func (r *reading) written(s *marked.Sentence, n name.Name) string {
	full := n.Full()
	if n.Rank != name.Genus {
		return full
	}
	groups := r.Titled
	if n.Common {
		for _, o := range r.neighbours(s) {
			groups = append(groups[:len(groups):len(groups)], o.Names...)
		}
	}
	if found := soleSpecies(groups, n.Genus); found != nil {
		return found[0]
	}
	if sole := r.species[n.Genus]; len(sole) == 1 && len(r.Titled) > 0 && isTitled(r.Titled, n) {
		return sole[0]
	}
	return full
}

// speciesNamed lists the species of each genus that the sentences name.
func (r *reading) speciesNamed() map[string][]string {
	out := map[string][]string{}
	for _, s := range r.Sentences {
		for _, g := range s.Names {
			for _, n := range g.Names {
				if full := n.Full(); n.Rank == name.Species && !slices.Contains(out[n.Genus], full) {
					out[n.Genus] = append(out[n.Genus], full)
				}
			}
		}
	}
	return out
}

func isTitled(groups []*marked.NameList, n name.Name) bool {
	for _, g := range groups {
		for _, m := range g.Names {
			if m.Rank == name.Genus && m.Genus == n.Genus {
				return true
			}
		}
	}
	return false
}

// soleSpecies returns the one species of the genus among the groups, written
// out; the genus itself where they name two, nil where they name none.
func soleSpecies(groups []*marked.NameList, genus string) []string {
	found := ""
	for _, g := range groups {
		for _, m := range g.Names {
			if m.Rank == name.Species && m.Genus == genus {
				if found != "" && found != m.Full() {
					return []string{genus}
				}
				found = m.Full()
			}
		}
	}
	if found == "" {
		return nil
	}
	return []string{found}
}
