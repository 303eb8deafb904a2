package name

import (
	"strings"
	"unicode/utf8"
)

// shape is a stretch of words built like a name: a genus or its abbreviation
// and what follows. Whether it is one is decided with support.
type shape struct {
	Name
	first, next int  // words taken: [first, next)
	shouted     bool // all in capitals
	titled      bool // epithet with a capital, as in a heading
	opens       bool // starts a sentence
}

// reader walks over the words of one text.
type reader struct {
	text  string
	words []word
	cat   *catalogue
}

func newReader(text string) reader { return reader{text, split(text), known()} }

func (r reader) at(i int) word {
	if i < 0 || i >= len(r.words) {
		return word{kind: mark, before: paragraph}
	}
	return r.words[i]
}

// is reports whether word i has the given text and is not cut off from the
// word before it by an empty line.
func (r reader) is(i int, text string) bool {
	w := r.at(i)
	return w.text == text && w.before != paragraph
}

// shapeAt returns the longest shape that starts at word i. A shape without an
// epithet and without "sp." is a capitalised word alone.
func (r reader) shapeAt(i int) (s shape, ok bool) {
	w := r.at(i)
	if w.kind != letters || !startsUpper(w.text) || r.at(i-1).kind == digits && w.before == joined {
		return s, false
	}
	s.first, s.next, s.opens = i, i+1, w.opens
	s.Start, s.End = w.start, w.end
	switch {
	case r.abbreviates(i):
		s.Genus, s.Abbreviated, s.next = w.text+".", true, i+2
		s.End = r.at(i + 1).end
	case isCapital(w.text):
		s.Genus = w.text
	case isUpper(w.text) && utf8.RuneCountInString(w.text) >= 4:
		s.Genus, s.shouted = capitalised(strings.ToLower(w.text)), true
	default:
		return s, false
	}
	s.Rank = Genus
	r.subgenus(&s)
	if !r.open(&s) {
		r.epithet(&s)
	}
	if s.Abbreviated && s.Epithet == "" && s.Open == "" {
		return s, false
	}
	if s.Epithet != "" {
		s.Rank = Species
		r.infra(&s)
	}
	s.Printed = r.text[s.Start:s.End]
	s.AuthorEnd = s.End
	if s.Epithet != "" || s.Subgenus != "" {
		s.Author, s.AuthorEnd = r.author(s.next)
		if s.Author == "" {
			s.AuthorEnd = s.End
		}
	}
	return s, true
}

// abbreviates reports whether word i is a genus shortened to one to three
// letters and a full stop.
func (r reader) abbreviates(i int) bool {
	if !r.is(i+1, ".") {
		return false
	}
	w := r.at(i).text
	n := utf8.RuneCountInString(w)
	if n > 3 || !(isCapital(w) || n == 1 && isUpper(w)) || r.at(i+1).before != joined {
		return false
	}
	return r.at(i-1).text != "." || r.at(i).before != joined // not the second initial of "G.O. Sars"
}

// subgenus takes "(Artemia)" before an epithet.
func (r reader) subgenus(s *shape) {
	i := s.next
	sub := r.at(i + 1)
	if !r.is(i, "(") || !isCapital(sub.text) || !r.is(i+2, ")") || genusForm(sub.text) == foreign {
		return
	}
	if e := r.at(i + 3); e.before == spaced && r.epithetAt(i+3) != foreign {
		s.Subgenus, s.next, s.End = sub.text, i+3, r.at(i+2).end
	}
}

// open takes "sp." and "spp." (true: no epithet follows), "cf.", "aff." and
// "nr." (false: one does).
func (r reader) open(s *shape) bool {
	w := r.at(s.next)
	if w.before == paragraph || w.before == joined && !s.Abbreviated {
		return false
	}
	switch w.text {
	case "sp", "spp", "ssp", "SP", "SPP", "Sp", "Spp":
		s.Open = strings.ToLower(w.text) + "."
		s.End, s.next = w.end, s.next+1
		if r.is(s.next, ".") && r.at(s.next).before == joined {
			s.End, s.next = r.at(s.next).end, s.next+1
		}
		if f := r.at(s.next).text; f == "cf" || f == "aff" || f == "nr" { // "sp. aff. apus"
			s.Open = ""
			return r.open(s)
		}
		return true
	case "cf", "aff", "nr", "near":
		n := s.next + 1
		if r.is(n, ".") {
			n++
		}
		if r.epithetAt(n) != foreign {
			s.Open, s.next = strings.TrimSuffix(w.text, ".")+".", n
		}
	}
	return false
}

// epithetAt judges word i as an epithet by form and by the lists of ordinary
// words.
func (r reader) epithetAt(i int) form {
	w := r.at(i)
	if w.kind != letters || w.before == paragraph || r.at(i+1).before == joined && r.at(i+1).kind == digits {
		return foreign
	}
	if a := r.at(i + 1); (a.text == "'" || a.text == "’") && a.before == joined && isLower(r.at(i+2).text) && r.at(i+2).before == joined {
		return foreign // "d'eau", "dell'uovo"
	}
	lower := strings.ToLower(w.text)
	if !isLower(w.text) && !isUpper(w.text) && !isCapital(w.text) || len(lower) == 1 {
		return foreign
	}
	if f := epithetForm(lower); f != foreign {
		return f
	}
	if r.cat.epithets[lower] {
		return plausible
	}
	return foreign
}

func (r reader) epithet(s *shape) {
	i := s.next
	w := r.at(i)
	if w.before == joined && !s.Abbreviated || r.epithetAt(i) == foreign {
		return
	}
	if s.Subgenus == "" && s.Open == "" && r.at(s.first+1).text != "." && i != s.first+1 {
		return
	}
	lower := strings.ToLower(w.text)
	switch {
	case s.shouted:
		if !isUpper(w.text) {
			return
		}
	case isCapital(w.text):
		if w.opens || s.Abbreviated {
			return
		}
		s.titled = true
	case !isLower(w.text):
		return
	}
	s.Epithet, s.End, s.next = lower, w.end, i+1
	if t := r.at(i + 2); r.is(i+1, "-") && r.at(i+1).before == joined && t.before == joined && isLower(t.text) && epithetForm(t.text) == telling {
		s.Epithet, s.End, s.next = lower+"-"+t.text, t.end, i+3 // "novae-zelandiae"
	}
}

// infra takes a third name: after "subsp." or the like, after a shortened
// species ("T. l. longicaudatus"), or by a telling form.
func (r reader) infra(s *shape) {
	if s.shouted || s.titled {
		return
	}
	i := s.next
	switch r.at(i).text {
	case "subsp", "ssp", "var", "forma", "morph":
		if r.is(i+1, ".") {
			i++
		}
		if r.epithetAt(i+1) != foreign && isLower(r.at(i+1).text) {
			s.Infra, s.End, s.next = r.at(i+1).text, r.at(i+1).end, i+2
		}
		return
	}
	w := r.at(i)
	if w.before != spaced || !isLower(w.text) || r.cat.ordinary[w.text] {
		return
	}
	if w.text == s.Epithet || r.epithetAt(i) == telling && epithetForm(s.Epithet) == telling && !r.cat.ordinary[s.Epithet] {
		s.Infra, s.End, s.next = w.text, w.end, i+1
	}
}

// shortTrinomen reads "T. l. longicaudatus" at word i: a genus and a species
// shortened, then a subspecies.
func (r reader) shortTrinomen(i int) (s shape, ok bool) {
	if !r.abbreviates(i) {
		return s, false
	}
	e := r.at(i + 2)
	if len(e.text) != 1 || !isLower(e.text) || !r.is(i+3, ".") || r.at(i+3).before != joined ||
		!isLower(r.at(i+4).text) || r.epithetAt(i+4) == foreign {
		return s, false
	}
	w, last := r.at(i), r.at(i+4)
	s = shape{first: i, next: i + 5, opens: w.opens}
	s.Name = Name{Start: w.start, End: last.end, AuthorEnd: last.end, Printed: r.text[w.start:last.end], Rank: Species,
		Genus: w.text + ".", Epithet: e.text + ".", Infra: last.text, Abbreviated: true}
	return s, true
}
