package fulltext

import (
	_ "embed"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"hatchlore/species/name"
)

//go:embed data/places.txt
var placesData string

// placeWords is read once and never written after.
var placeWords = sync.OnceValue(func() map[string]map[string]bool {
	out := map[string]map[string]bool{}
	section := ""
	for line := range strings.Lines(placesData) {
		line = strings.TrimSpace(line)
		if s, ok := strings.CutPrefix(line, "["); ok {
			section = strings.TrimSuffix(s, "]")
			out[section] = map[string]bool{}
			continue
		}
		if strings.HasPrefix(line, "#") || section == "" {
			continue
		}
		for _, w := range strings.Split(line, ",") {
			if w = strings.TrimSpace(w); w != "" {
				out[section][w] = true
			}
		}
	}
	return out
})

// elision finds the article in "d’Ostrel" and "l’Étang".
var elision = regexp.MustCompile(`\b([dl])[’'](\p{Lu})`)

// gazetteer reads places in the sentences of one paper.
type gazetteer struct {
	taxa  func() *name.Scope // read when a sentence may name a place: many papers name none
	nouns bool               // all nouns have capitals
}

// named is a place that a sentence names; source says that something that
// bears eggs came from there.
type named struct {
	name   string
	source bool
}

// weight is how many mere mentions a place is worth. Our own judgement, no
// source: discussions name other people's places again and again.
func (n named) weight() int {
	if n.source {
		return 5
	}
	return 1
}

// in returns the places that the words of one sentence name.
func (g gazetteer) in(sentence string, words []string) []named {
	taxa := sync.OnceValue(func() map[string]bool {
		out := map[string]bool{}
		for _, n := range g.taxa().Find(sentence) {
			out[n.Genus] = true
		}
		return out
	})
	isTaxon := func(w string) bool { return name.MayBeGenus(w) && taxa()[w] }
	var out []named
	for i := 0; i < len(words); {
		if end := idle(words, i); end > i {
			i = end
			continue
		}
		phrase, next, kind := capitals(words, i, isTaxon)
		single := !strings.Contains(phrase, " ")
		if phrase != "" && !housed(words, i) && (kind && i > 0 && !(g.nouns && single) || fromBearer(words, i) && !(g.nouns && !kind)) {
			out = append(out, named{phrase, fromBearer(words, i)})
		}
		i = max(i+1, next)
	}
	return out
}

// wordsOf splits a sentence into words, articles parted from names: "d Ostrel".
func wordsOf(sentence string) []string {
	if strings.ContainsAny(sentence, "’'") {
		sentence = elision.ReplaceAllString(sentence, "$1 $2")
	}
	return strings.Fields(sentence)
}

// idle returns the end of the stretch of words from i on that can name no place:
// words in small letters, and runs of capitals in which no word is a kind of place
// and none follows what bears eggs.
func idle(words []string, i int) int {
	for i < len(words) {
		end, names := i, false
		for end < len(words) && startsUpper(strings.Trim(words[end], placeMarks)) {
			names = names || isKind(strings.Trim(words[end], placeMarks)) || fromBearer(words, end)
			end++
		}
		if names {
			return i
		}
		i = max(end, i+1)
	}
	return i
}

// mayName reports whether words hold a kind of place or what bears eggs, without
// which they name no place.
func mayName(words []string) bool {
	return slices.ContainsFunc(words, func(w string) bool {
		return placeWords()["bearer"][strings.Trim(w, "(),;:")] || isKind(strings.Trim(w, placeMarks))
	})
}

// placeMarks may stand around a word of a place's name.
const placeMarks = "(),;:.“”\"'’[]"

// isKind reports whether a word is a kind of place, or a compound of one.
func isKind(w string) bool {
	lists := placeWords()
	return startsUpper(w) && (lists["kind"][w] || lists["first"][w] || isCompound(w))
}

// capitals reads up to four capitalised words from i on; kind reports whether
// they are a kind of place behind its name ("Marrow Fen", but not "Pool Life")
// or before it ("Lac Blanc"), or a compound of one ("Marschenmoor").
func capitals(words []string, i int, isTaxon func(string) bool) (phrase string, next int, kind bool) {
	lists := placeWords()
	var got []string
	for next = i; next < len(words) && len(got) < 4; next++ {
		w := strings.Trim(words[next], placeMarks)
		if !startsUpper(w) || lists["never"][w] || isTaxon(w) {
			break
		}
		got = append(got, w)
		if last := words[next][len(words[next])-1]; last == ',' || last == ';' || last == ')' || last == '.' {
			next++
			break
		}
	}
	if len(got) > 0 {
		kind = lists["kind"][got[len(got)-1]] || lists["first"][got[0]] || slices.ContainsFunc(got, isCompound)
	}
	bare := len(got) == 1 && (lists["kind"][got[0]] || utf8.RuneCountInString(got[0]) < 4)
	if len(got) == 0 || bare {
		return "", next, false
	}
	return strings.Join(got, " "), next, kind
}

// isCompound reports whether a word ends in a kind of place with a name before
// it.
func isCompound(w string) bool {
	return slices.ContainsFunc(compoundEnds(), func(end string) bool { return len(w) > len(end)+3 && strings.HasSuffix(w, end) })
}

// compoundEnds is the kinds of place that a compound may end in, in lower case;
// made once and never written after.
var compoundEnds = sync.OnceValue(func() []string {
	var out []string
	for kind := range placeWords()["kind"] {
		if end := strings.ToLower(kind); len(end) > 3 {
			out = append(out, end)
		}
	}
	return out
})

func startsUpper(w string) bool {
	r, n := utf8.DecodeRuneInString(w)
	return unicode.IsUpper(r) && n < len(w) && !strings.ContainsFunc(w, unicode.IsDigit) && strings.ToUpper(w) != w
}

// fromBearer reports whether "eggs from the" or the like stands before word i.
func fromBearer(words []string, i int) bool {
	j := head(words, i)
	return j >= 0 && j < i-1 && placeWords()["bearer"][strings.Trim(words[j], "(),;:")]
}

// housed reports whether "University of" or the like stands before word i: the
// place of an institution.
func housed(words []string, i int) bool {
	j := head(words, i)
	return j >= 0 && placeWords()["never"][strings.Trim(words[j], "(),;:")]
}

// head is the last word before word i that is no preposition or article.
func head(words []string, i int) int {
	j := i - 1
	for j >= 0 && i-j <= 3 && placeWords()["before"][strings.ToLower(words[j])] {
		j--
	}
	return j
}

// SameRegion reports whether two places share a word that is no mere kind:
// "Orrin Top" lies on the "Orrin Plateau".
func SameRegion(a, b string) bool {
	lists := placeWords()
	for _, w := range strings.Fields(a) {
		for _, v := range strings.Fields(b) {
			if strings.EqualFold(w, v) && !lists["kind"][w] && !lists["kind"][v] && utf8.RuneCountInString(w) > 3 {
				return true
			}
		}
	}
	return strings.EqualFold(a, b)
}
