package fulltext

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"sync"

	"hatchlore/ingest"
	"hatchlore/species/name"
)

// mostOrigins is how many places one paper's eggs are taken to come from.
const mostOrigins = 3

// leastShare parts the places at which a paper worked from those with which it
// compares: one that is named so many times less often than the first, or seldomer
// still, is one of these. Our own judgement, no source.
const leastShare = 3

// Origin is a place from which a paper says its eggs or animals came.
type Origin struct {
	Place  string
	Within string // a place in which it is said to lie, "" where none is told
	// How often it is named, what says that eggs came from there counted
	// several times: by the species that the words name with it, "" for none.
	Told map[string]int
}

// weight is how often the place is named with a species, or with none.
func (o Origin) weight(taxon string) int {
	n := 0
	for t, told := range o.Told {
		if t == "" || taxon == "" || strings.EqualFold(t, taxon) || strings.HasPrefix(strings.ToLower(t), strings.ToLower(taxon)+" ") {
			n += told
		}
	}
	return n
}

// Worked returns the places of a paper from which its eggs of a species or genus
// came, those named most often first: not those that it names with other species
// alone, nor those that it names so seldom that it only compares with them.
func Worked(all []Origin, taxon string) []string {
	most := 0
	for _, o := range all {
		most = max(most, o.weight(taxon))
	}
	if most == 0 && taxon != "" {
		return Worked(all, "") // it names places with other species only, or with this one under another name
	}
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(a, b Origin) int { return b.weight(taxon) - a.weight(taxon) })
	out := []string{}
	for _, o := range all {
		if n := o.weight(taxon); n == 0 || n < most && n*leastShare <= most || len(out) == mostOrigins {
			break
		}
		if !slices.ContainsFunc(out, func(p string) bool { return SameRegion(p, o.Place) }) {
			out = append(out, o.Place)
		}
	}
	return out
}

// Origins returns the places that a paper may have its eggs or animals from, in
// the order in which it names them; see [Worked]. It looks for capitalised phrases
// that name a kind of place ("Fen", "Lac", "Becken") or follow "eggs from" and the
// like, and passes over sentences with a citation or words of hearsay, which speak
// of other people's animals. It takes text of one paper: its methods, or all of it.
func Origins(texts ...string) []Origin {
	scan := gazetteer{taxa: sync.OnceValue(func() *name.Scope { return name.NewScope("", texts...) }), nouns: isGerman(texts)}
	at := map[string]int{}
	var out []Origin
	for _, text := range texts {
		for sentence := range sentences(text) {
			words := wordsOf(sentence)
			if !mayName(words) || cites(sentence) || hearsay(sentence) {
				continue
			}
			for _, p := range scan.in(sentence, words) {
				i, known := at[p.name]
				if !known {
					i = len(out)
					at[p.name] = i
					out = append(out, Origin{Place: p.name, Told: map[string]int{}})
				}
				out[i].Told[p.taxon] += p.weight()
				out[i].Within = cmp.Or(out[i].Within, p.within)
			}
		}
	}
	return out
}

// OriginsOf is [Origins] of a paper as it was read, without what it cites and
// whom it thanks, and without its discussion where it has methods: there a
// paper speaks of other people's animals.
func OriginsOf(pages []ingest.Page) []Origin {
	var own, all []string
	methods := false
	for _, b := range blocksOf(pages) {
		all = append(all, b.text)
		if methods = methods || b.section == ingest.SectionMethods; b.section != ingest.SectionDiscussion {
			own = append(own, b.text)
		}
	}
	if methods {
		return Origins(own...)
	}
	return Origins(all...)
}

// hearsay reports whether a sentence says of itself that it tells what others
// say, or what is so elsewhere.
func hearsay(sentence string) bool {
	return slices.ContainsFunc(strings.Fields(sentence), func(w string) bool { return placeWords()["hearsay"][strings.Trim(w, "(),;:.")] })
}

// isGerman reports whether nouns have capitals in these texts, so that a
// capital makes no name.
func isGerman(texts []string) bool {
	german, other := 0, 0
	for _, t := range texts {
		german += strings.Count(t, " und ") + strings.Count(t, " der ")
		other += strings.Count(t, " the ") + strings.Count(t, " la ") + strings.Count(t, " de ")
	}
	return german > other
}

// authorYear finds "Alder (1960)", "(Alder, 1960)" and "Alder & Birch 1960".
var authorYear = regexp.MustCompile(`\p{Lu}[\p{L}.’'-]+(?:,| et al\.,?)? ?\(?(?:18|19|20)\d\d[a-z]?\b`)

// cites reports whether words name an author with a year; a month with one is none.
func cites(words string) bool {
	for _, m := range authorYear.FindAllString(words, -1) {
		first, _, _ := strings.Cut(m, " ")
		if !placeWords()["never"][strings.TrimRight(first, ",.")] {
			return true
		}
	}
	return false
}
