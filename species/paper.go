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
	SameAs   string   // key of the paper that published the same experiment first, if any
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

// Echoes returns the key of the paper in the library that a second-hand claim
// cites: the one whose first author and year stand in the citation as
// printed; "" when there is none or more than one.
func (l Library) Echoes(c evidence.Claim) string {
	if !c.Secondhand || c.Cited == "" {
		return ""
	}
	words := citationWords(c.Cited)
	found := ""
	for key, p := range l {
		if len(p.Authors) == 0 || p.Year == 0 || key == c.Paper && len(l) > 1 && !words[strconv.Itoa(p.Year)] {
			continue
		}
		if words[strings.ToLower(family(p.Authors[0]))] && words[strconv.Itoa(p.Year)] {
			if found != "" {
				return ""
			}
			found = key
		}
	}
	return found
}

// citationWords splits a citation into lower-case words; "1990a" is 1990, and
// runs of words stand joined too, for names like "van der Berg".
func citationWords(cited string) map[string]bool {
	out := map[string]bool{}
	words := strings.FieldsFunc(strings.ToLower(cited), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '-' && r != '\'' && r != '’'
	})
	for i, w := range words {
		if len(w) == 5 && w[0] >= '1' && w[0] <= '2' {
			w = w[:4]
		}
		out[w] = true
		for j := i + 1; j < min(i+4, len(words)); j++ {
			out[strings.Join(words[i:j+1], " ")] = true
		}
	}
	return out
}

// witness is the paper that counts for key: the first publication of the same
// experiment.
func (l Library) witness(key string) string {
	for range len(l) {
		p, ok := l[key]
		if !ok || p.SameAs == "" || p.SameAs == key {
			break
		}
		key = p.SameAs
	}
	return key
}

// cites joins the citations of papers: "A 1990, B 1991 and C 1992".
func (l Library) cites(keys []string) string {
	var out []string
	for _, k := range keys {
		out = append(out, l.Cite(k))
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
	slices.SortFunc(out, func(a, b evidence.Claim) int {
		return cmp.Or(strings.Compare(a.Paper, b.Paper), a.Page-b.Page, a.Start-b.Start, a.End-b.End,
			a.Factor.Order()-b.Factor.Order(), strings.Compare(a.ID, b.ID), strings.Compare(fmt.Sprint(a.Bearing, a.Category, a.Printed), fmt.Sprint(b.Bearing, b.Category, b.Printed)))
	})
	return out
}
