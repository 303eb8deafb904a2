// Package citation reads where a text cites others' work, "(Hallow 1987)",
// "Birk et al. (1990a, b)", "[2, 5–7]", "Moor, loc. cit.", and which entries of
// the paper's own list of references are meant.
//
// It refuses to guess: where two entries could be meant, none is. What is no
// citation (a date, the author of a species name) is left alone or marked.
package citation

import (
	"slices"

	"hatchlore/ingest/reference"
)

// Mention is one citation in a text: "(Hallow 1987)", "Birk & Moor (1990)",
// "Moor et al. 1987a". Start and End are bytes; they hold the authors and the
// year without the brackets around them. A list of years after one name gives
// a mention for each, and those after the first span their year alone.
type Mention struct {
	Start, End int
	Families   []string // as printed, with particles ("van der Moor")
	Year       int      // 0 where it has none
	Suffix     string   // the letter after the year
	EtAl       bool
	Personal   bool  // "pers. comm.", "unpublished data"
	Numbers    []int // of a numbered list: "[9]", "[2, 5–7]"
	Back       bool  // "loc. cit.", "ibid.": what was cited last, of Families where they are named
	Authority  bool  // the author of a species name ("Triops cancriformis (Bosc, 1801)"), no source
}

// Record is what m says of the work that it cites. Others than those it names
// are one author without a name.
func (m Mention) Record() reference.Record {
	r := reference.Record{Year: m.Year}
	for _, f := range m.Families {
		r.Authors = append(r.Authors, reference.Author{Family: f})
	}
	if m.EtAl {
		r.Authors = append(r.Authors, reference.Author{})
	}
	return r
}

// Mentions returns the citations of text in the order in which they stand.
func Mentions(text string) []Mention {
	s := scanner{text: text, toks: cut(text)}
	for i := range s.toks {
		switch {
		case s.year(i) > 0:
			s.dated(i)
		case s.is(i, "pers", "personal", "persönliche", "unpubl", "unpublished"):
			s.personal(i)
		case s.is(i, "["):
			s.numbered(i)
		default:
			s.back(i)
		}
	}
	return s.found
}

// year returns the year at token i, 0 when there is none. One small letter may
// be glued to it.
func (s *scanner) year(i int) int {
	if i < 0 || i >= len(s.toks) {
		return 0
	}
	y, _, ok := splitYear(s.toks[i].low)
	if !ok {
		return 0
	}
	return y
}

// splitYear splits "1987a". Years from 1700 to 2099 count.
func splitYear(t string) (year int, suffix string, ok bool) {
	if len(t) != 4 && len(t) != 5 {
		return 0, "", false
	}
	for _, c := range t[:4] {
		if c < '0' || c > '9' {
			return 0, "", false
		}
		year = year*10 + int(c-'0')
	}
	if len(t) == 5 {
		if t[4] < 'a' || t[4] > 'z' {
			return 0, "", false
		}
		suffix = t[4:]
	}
	return year, suffix, year >= 1700 && year <= 2099
}

// dated reads the mention whose year is token i, and further years after it.
func (s *scanner) dated(i int) {
	if n := len(s.found); n > 0 && s.continues(i, s.found[n-1]) {
		m := s.found[n-1]
		m.Start, m.End = s.toks[i].start, s.toks[i].end
		m.Families = slices.Clone(m.Families)
		m.Year, m.Suffix, _ = splitYear(s.toks[i].low)
		s.found = append(s.found, m)
		s.letters(i)
		return
	}
	at := i - 1
	opened := false
	if s.is(at, "(", "[") {
		opened = true
		at--
	} else if s.is(at, ",") {
		at--
	}
	m, first, ok := s.authors(at)
	if !ok {
		return
	}
	bracket := s.toks[i].inside
	switch {
	case opened, m.EtAl, len(m.Families) > 1:
	case bracket >= 0 && s.toks[first].inside == bracket && s.leads(bracket, first):
	case s.suffixed(i):
	default:
		return
	}
	m.Start, m.End = s.toks[first].start, s.toks[i].end
	m.Year, m.Suffix, _ = splitYear(s.toks[i].low)
	m.Authority = s.authority(first, bracket, opened)
	s.found = append(s.found, m)
	s.letters(i)
}

func (s *scanner) suffixed(i int) bool { return len(s.toks[i].low) == 5 }

// continues reports whether the year at token i only adds to the last mention:
// "Hallow 1987, 1990".
func (s *scanner) continues(i int, last Mention) bool {
	k := i - 1
	if !s.is(k, ",") && !s.is(k, joiners...) {
		return false
	}
	k--
	if s.is(k, ",") {
		k--
	}
	return k >= 0 && (s.toks[k].end == last.End || len(s.toks[k].low) == 1 && s.is(k-1, ",") && s.toks[k-2].end == last.End) && last.Year > 0
}

// letters adds the mentions of "1987a, b".
func (s *scanner) letters(i int) {
	for s.suffixed(i) || len(s.toks[i].low) == 1 {
		k := i + 1
		if s.is(k, ",") || s.is(k, joiners...) {
			k++
		}
		if k == i+1 || k >= len(s.toks) || len(s.toks[k].low) != 1 || !s.toks[k].word || s.toks[k].cap || s.is(k, "a") ||
			!s.is(k+1, ")", "]", ";", ",", "and", "&") {
			return
		}
		m := s.found[len(s.found)-1]
		m.Start, m.End, m.Suffix = s.toks[k].start, s.toks[k].end, s.toks[k].low
		m.Families = slices.Clone(m.Families)
		s.found = append(s.found, m)
		i = k
	}
}

// numbered reads "[2, 5–7]".
func (s *scanner) numbered(i int) {
	var numbers []int
	k := i + 1
	for ; k < len(s.toks) && k < i+40 && !s.is(k, "]"); k++ {
		n, ok := plainNumber(s.toks[k].low)
		switch {
		case ok && n >= 1 && n <= 999 && s.is(k-1, "-", "–", "—") && len(numbers) > 0 && n-numbers[len(numbers)-1] < 100:
			for v := numbers[len(numbers)-1] + 1; v <= n; v++ {
				numbers = append(numbers, v)
			}
		case ok && n >= 1 && n <= 999:
			numbers = append(numbers, n)
		case !s.is(k, ",", ";", "-", "–", "—"):
			return
		}
	}
	if k >= len(s.toks) || !s.is(k, "]") || len(numbers) == 0 {
		return
	}
	s.found = append(s.found, Mention{Start: s.toks[i].start, End: s.toks[k].end, Numbers: numbers})
}
