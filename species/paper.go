package species

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"hatchlore/evidence"
)

// Paper is what must be known of a paper to weigh its claims.
type Paper struct {
	Key      string
	Authors  []string // "Family, Given" or a family name, in the paper's order
	Year     int      // 0 when unknown
	Citation string   // as shown; "" makes one of authors and year
	Places   []string // where its eggs came from, as named in the paper
	SameAs   string   // key of the paper that published the same experiment first, if any; see [Twins]
	SameWhy  string   // what speaks for it
	Judged   bool     // the keeper said whether it publishes an experiment again
}

// Library is the papers by their citation keys.
type Library map[string]Paper

// Cite returns a short citation, such as "Wrenfield 1996"; the key for a paper
// that is not in the library.
func (l Library) Cite(key string) string {
	p := l[key]
	switch {
	case p.Citation != "":
		return p.Citation
	case len(p.Authors) == 0:
		return key
	}
	who := family(p.Authors[0])
	switch len(p.Authors) {
	case 1:
	case 2:
		who += " & " + family(p.Authors[1])
	default:
		who += " et al."
	}
	if p.Year == 0 {
		return who
	}
	return who + " " + strconv.Itoa(p.Year)
}

func family(author string) string {
	f, _, _ := strings.Cut(author, ",")
	return strings.TrimSpace(f)
}

// shelf is a library with what was already looked up in it. It serves one call
// and is not shared.
type shelf struct {
	Library
	byYear map[string][]string // year → keys, sorted
	cited  map[string][]string // citation as printed → keys
}

func shelve(l Library) *shelf {
	s := &shelf{Library: l, byYear: map[string][]string{}, cited: map[string][]string{}}
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

func (s *shelf) cite(key string) string { return s.Cite(key) }

// echoes returns the key of the paper in the library that a second-hand claim
// cites, the oldest of several; "" when there is none.
func (s *shelf) echoes(c evidence.Claim) string {
	if keys := s.sources(c); len(keys) > 0 {
		return keys[0]
	}
	return ""
}

// sources returns the papers in the library that a second-hand claim cites:
// those whose first author and year stand in the citation as printed, by year.
func (s *shelf) sources(c evidence.Claim) []string {
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

// witness is the paper that counts for key: the first publication of the same
// experiment.
func (s *shelf) witness(key string) string {
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

// cites joins the citations of papers: "A 1990, B 1991 and C 1992".
func (s *shelf) cites(keys []string) string {
	var out []string
	for _, k := range keys {
		out = append(out, s.cite(k))
	}
	if len(out) > mostCited {
		out = append(out[:mostCited-1], fmt.Sprintf("%d others", len(out)-mostCited+1))
	}
	return listed(out)
}

func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// ordered returns claims in one order whatever order they came in: by paper,
// page, place on the page, factor and id. Rejected claims are left out.
func ordered(claims []evidence.Claim) []evidence.Claim {
	var out []evidence.Claim
	for _, c := range claims {
		if c.Decision != evidence.Rejected {
			out = append(out, c)
		}
	}
	slices.SortFunc(out, compareClaims)
	return out
}

func compareClaims(a, b evidence.Claim) int {
	if d := cmp.Or(strings.Compare(a.Paper, b.Paper), a.Page-b.Page, a.Start-b.Start, a.End-b.End, strings.Compare(a.ID, b.ID)); d != 0 {
		return d
	}
	return cmp.Or(a.Factor.Order()-b.Factor.Order(), strings.Compare(string(a.Bearing), string(b.Bearing)),
		strings.Compare(a.Category, b.Category), strings.Compare(a.Printed, b.Printed))
}
