package fulltext

import (
	"cmp"
	_ "embed"
	"regexp"
	"slices"
	"strings"
	"sync"

	"hatchlore/ingest"
	"hatchlore/species/name"
)

// mostOrigins is how many places one paper's eggs are taken to come from.
const mostOrigins = 3

// leastShare is how many times rarer than the first a place may be named and
// still be one that the paper worked at, rather than one that it compares with.
// Our own judgement, no source.
const leastShare = 3

// Origins returns the places from which a paper says its eggs or animals came,
// most often named first. It looks for capitalised phrases that name a kind of
// place ("Fen", "Lac", "Becken") or follow "eggs from" and the like, and passes
// over sentences with a citation or words of hearsay, which speak of other
// people's animals. It takes text of one paper: its methods, or all of it.
func Origins(texts ...string) []string {
	scan := gazetteer{taxa: sync.OnceValue(func() *name.Scope { return name.NewScope("", texts...) }), nouns: isGerman(texts)}
	count := map[string]int{}
	first := map[string]int{}
	for _, text := range texts {
		for sentence := range sentences(text) {
			words := wordsOf(sentence)
			if !mayName(words) || citationYear.MatchString(sentence) || hearsay(sentence) {
				continue
			}
			for _, p := range scan.in(sentence, words) {
				if count[p.name] == 0 {
					first[p.name] = len(first)
				}
				count[p.name] += p.weight()
			}
		}
	}
	all := make([]string, 0, len(count))
	for p := range count {
		all = append(all, p)
	}
	slices.SortFunc(all, func(a, b string) int { return cmp.Or(count[b]-count[a], first[a]-first[b]) })
	out := []string{}
	for _, p := range all {
		if len(out) < mostOrigins && count[p]*leastShare >= count[all[0]] && !slices.ContainsFunc(out, func(o string) bool { return SameRegion(o, p) }) {
			out = append(out, p)
		}
	}
	return out
}

// OriginsOf is [Origins] of a paper as it was read, without what it cites and
// whom it thanks, and without its discussion where it has methods: there a
// paper speaks of other people's animals.
func OriginsOf(pages []ingest.Page) []string {
	var own, all []string
	methods := false
	for _, p := range pages {
		if len(p.Blocks) == 0 {
			own, all = append(own, p.Text), append(all, p.Text)
		}
		for _, b := range p.Blocks {
			if b.Kind == ingest.Reference || b.Section == ingest.SectionReferences || b.Section == ingest.SectionOther {
				continue
			}
			text := p.Text[b.Start:b.End]
			all = append(all, text)
			if methods = methods || b.Section == ingest.SectionMethods; b.Section != ingest.SectionDiscussion {
				own = append(own, text)
			}
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

// citationYear finds "Alder (1960)", "(Alder, 1960)" and "Alder & Birch 1960".
var citationYear = regexp.MustCompile(`\p{Lu}[\p{L}.’'-]+(?:,| et al\.,?)? ?\(?(?:18|19|20)\d\d[a-z]?\b`)

// sentences yields the stretches between full stops that end a sentence.
func sentences(text string) func(yield func(string) bool) {
	return func(yield func(string) bool) {
		start := 0
		for i := 0; i < len(text); i++ {
			end := text[i] == '.' && i+1 < len(text) && (text[i+1] == ' ' || text[i+1] == '\n') && i > 1 && text[i-2] != ' ' ||
				text[i] == '\n' && i+1 < len(text) && text[i+1] == '\n'
			if end {
				if !yield(text[start : i+1]) {
					return
				}
				start = i + 1
			}
		}
		yield(text[start:])
	}
}
