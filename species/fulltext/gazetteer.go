package fulltext

import (
	"cmp"
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

// placeWords is read once and never written after. Capitals count in it.
var placeWords = sync.OnceValue(func() map[string]map[string]bool {
	out := map[string]map[string]bool{}
	for section, l := range wordlists(placesData) {
		out[section] = l.whole
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
// bears eggs came from there, taxon which species is named with it, within in
// which other place it lies.
type named struct {
	name   string
	source bool
	taxon  string
	within string
}

// weight is how many mere mentions a place is worth. Our own judgement, no
// source: discussions name other people's places again and again.
func (n named) weight() int {
	if n.source {
		return 6
	}
	return 1
}

// in returns the places that the words of one sentence name.
func (g gazetteer) in(sentence string, words []string) []named {
	taxa := sync.OnceValue(func() []name.Name { return g.taxa().Find(sentence) })
	isTaxon := func(w string) bool {
		return name.MayBeGenus(w) && slices.ContainsFunc(taxa(), func(n name.Name) bool { return n.Genus == w })
	}
	var out []named
	last := -1 // where the words of the last place end
	for i := 0; i < len(words); {
		if end := idle(words, i); end > i {
			i = end
			continue
		}
		phrase, next, kind := capitals(words, i, isTaxon)
		single := !strings.Contains(phrase, " ")
		if phrase != "" && !housed(words, i) && (kind && i > 0 && !(g.nouns && single) || linked(words, i) && !(g.nouns && !kind)) {
			place := named{name: phrase, source: fromBearer(words, i), taxon: namedWith(sentence, phrase, taxa())}
			if last >= 0 && lies(words[last-1:i]) {
				before := &out[len(out)-1]
				before.within, place.source = phrase, place.source || before.source
			}
			out = append(out, place)
			last = next
		}
		i = max(i+1, next)
	}
	return out
}

// lies reports whether the words from the last of one place to another say that it
// lies there: "Sedge Hollow, Marrow Fen", "Sedge Hollow in Marrow Fen".
func lies(words []string) bool {
	switch len(words) {
	case 1:
		return strings.HasSuffix(words[0], ",")
	case 2:
		return !strings.HasSuffix(words[0], ",") && placeWords()["in"][words[1]]
	}
	return false
}

// namedWith returns the species that a sentence names with a place: one in
// brackets behind it, else the last before it, else the first behind it; "" where
// the sentence names none.
func namedWith(sentence, place string, taxa []name.Name) string {
	first, _, _ := strings.Cut(place, " ")
	at := strings.Index(sentence, first)
	var before, behind string
	for _, n := range taxa {
		switch full := n.Full(); {
		case full == "" || n.Rank != name.Species || at < 0:
		case n.Start < at:
			before = full
		case strings.Count(sentence[at:n.Start], "(") > strings.Count(sentence[at:n.Start], ")"):
			return full
		case behind == "":
			behind = full
		}
	}
	return cmp.Or(before, behind)
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
			names = names || isKind(strings.Trim(words[end], placeMarks)) || linked(words, end)
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
		w = strings.Trim(w, placeMarks)
		return placeWords()["bearer"][w] || placeWords()["water"][w] || isKind(w)
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

// linked reports whether "eggs from the", "the pools of" or the like stands
// before word i.
func linked(words []string, i int) bool {
	j := head(words, i)
	return j >= 0 && j < i-1 && (placeWords()["bearer"][strings.Trim(words[j], "(),;:")] || placeWords()["water"][strings.Trim(words[j], "(),;:")])
}

// oneBreath is how many words may stand between what bears eggs and the waters
// from which it came: "taken moist in May 2021, and from a pool of the". Our own
// judgement, no source.
const oneBreath = 12

// fromBearer reports whether word i names where eggs came from: what bears them
// stands right before, or before the water there.
func fromBearer(words []string, i int) bool {
	j := head(words, i)
	if j < 0 || j >= i-1 {
		return false
	}
	is := func(list, w string) bool { return placeWords()[list][strings.Trim(w, "(),;:")] }
	return is("bearer", words[j]) || is("water", words[j]) && slices.ContainsFunc(words[max(0, i-oneBreath):j], func(w string) bool { return is("bearer", w) })
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
