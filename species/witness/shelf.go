package witness

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"hatchlore/evidence"
)

// Shelf is a library with what was already looked up in it. It serves one call
// and is not shared.
type Shelf struct {
	Library
	byYear map[string][]string // year → keys, sorted
	cited  map[string][]string // citation as printed → keys
}

// Shelve returns the shelf of a library.
func Shelve(l Library) *Shelf {
	s := &Shelf{Library: l, byYear: map[string][]string{}, cited: map[string][]string{}}
	for key, p := range l {
		if len(p.Authors) > 0 && p.Year > 0 {
			y := strconv.Itoa(p.Year)
			s.byYear[y] = append(s.byYear[y], key)
		}
	}
	for _, keys := range s.byYear {
		slices.Sort(keys)
	}
	return s
}

// Echoes returns the key of the paper in the library that a second-hand claim
// cites, the oldest of several; "" when there is none.
func (s *Shelf) Echoes(c evidence.Claim) string {
	if keys := s.Sources(c); len(keys) > 0 {
		return keys[0]
	}
	return ""
}

// Sources returns the papers in the library that a second-hand claim cites:
// those whose first author and year stand in the citation as printed, by year.
func (s *Shelf) Sources(c evidence.Claim) []string {
	if !c.Secondhand || c.Cited == "" {
		return nil
	}
	if keys, done := s.cited[c.Cited]; done {
		return keys
	}
	words := citationWords(c.Cited)
	var found []string
	for y, keys := range s.byYear {
		if !words[y] {
			continue
		}
		for _, key := range keys {
			if words[plain(family(s.Library[key].Authors[0]))] {
				found = append(found, key)
			}
		}
	}
	slices.SortFunc(found, func(a, b string) int {
		return cmp.Or(s.Library[a].Year-s.Library[b].Year, strings.Compare(a, b))
	})
	s.cited[c.Cited] = found
	return found
}

// citationWords splits a citation into plain words; "1990a" is 1990, and
// runs of up to four words stand joined too, for names like "van der Berg".
func citationWords(cited string) map[string]bool {
	out := map[string]bool{}
	words := strings.FieldsFunc(plain(cited), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '-' && r != '\'' && r != '’'
	})
	for i, w := range words {
		if len(w) == 5 && (w[0] == '1' || w[0] == '2') {
			w = w[:4]
		}
		out[w] = true
		for j := i + 1; j < min(i+4, len(words)); j++ {
			out[strings.Join(words[i:j+1], " ")] = true
		}
	}
	return out
}

// accents folds the letters in which two printings of a surname differ:
// "Bramkötter", "Bramkoetter", "Bramkotter".
var accents = strings.NewReplacer("ä", "a", "ae", "a", "æ", "a", "å", "a", "á", "a", "à", "a", "â", "a", "ã", "a", "ö", "o", "oe", "o", "œ", "o", "ø", "o",
	"ó", "o", "ò", "o", "ô", "o", "õ", "o", "ü", "u", "ue", "u", "ú", "u", "ù", "u", "û", "u", "é", "e", "è", "e", "ê", "e", "ë", "e", "í", "i", "ì", "i",
	"î", "i", "ï", "i", "ç", "c", "č", "c", "ć", "c", "ñ", "n", "ń", "n", "š", "s", "ś", "s", "ß", "ss", "ž", "z", "ź", "z", "ż", "z", "ł", "l", "ý", "y", "ř", "r")

func plain(s string) string { return accents.Replace(strings.ToLower(s)) }

// Witness is the paper that counts for key: the first publication of the same
// experiment.
func (s *Shelf) Witness(key string) string {
	for range len(s.Library) {
		p, ok := s.Library[key]
		if !ok || p.SameAs == "" || p.SameAs == key {
			break
		}
		key = p.SameAs
	}
	return key
}

// mostCited is how many papers a sentence names before it counts the rest.
const mostCited = 4

// Cites joins the citations of papers: "A 1990, B 1991 and C 1992".
func (s *Shelf) Cites(keys []string) string {
	var out []string
	for _, k := range keys {
		out = append(out, s.Cite(k))
	}
	return Some(out)
}

// Some lists citations, and counts those beyond what a sentence can name.
func Some(citations []string) string {
	if len(citations) > mostCited {
		rest := fmt.Sprintf("%d others", len(citations)-mostCited+1)
		citations = append(slices.Clone(citations[:mostCited-1]), rest)
	}
	return Listed(citations)
}

// Listed joins words: "a, b and c".
func Listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}
