package citation

import (
	"slices"
	"strings"
	"unicode"

	"hatchlore/ingest/reference"
)

// joiners stand between two authors.
var joiners = []string{"and", "&", "und", "et", "y", "e", "en", "i", "och"}

// notFamilies begin with a capital before a year and are no authors.
var notFamilies = []string{
	"january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december",
	"januar", "februar", "märz", "mai", "juni", "juli", "oktober", "dezember",
	"janvier", "février", "mars", "avril", "juin", "juillet", "août", "septembre", "octobre", "novembre", "décembre",
	"enero", "febrero", "marzo", "abril", "mayo", "junio", "julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre",
	"gennaio", "febbraio", "aprile", "maggio", "giugno", "luglio", "settembre", "ottobre", "dicembre",
	"janeiro", "fevereiro", "março", "maio", "junho", "julho", "setembro", "outubro", "dezembro",
	"jan", "feb", "mar", "apr", "jun", "jul", "aug", "sep", "sept", "oct", "nov", "dec",
	"spring", "summer", "autumn", "winter", "fall", "early", "late", "mid",
	"in", "on", "at", "by", "of", "the", "since", "from", "until", "till", "during", "between", "after", "before", "about", "year", "years",
	"table", "figure", "fig", "figs", "appendix", "section", "version", "volume", "vol", "university", "copyright", "published", "received", "accepted",
	"im", "seit", "von", "bis", "jahr", "nach", "vor", "en", "depuis", "entre", "desde", "dal", "nel", "em",
	"see", "cf", "also", "e", "i", "and", "both", "however", "while", "when", "this", "these", "those", "our", "we", "ibid", "idem",
}

// authors reads the authors whose last token is at, and returns their first
// token. It reads backwards: "van der Moor, Hallow & Birk".
func (s *scanner) authors(at int) (m Mention, first int, ok bool) {
	if at < 0 || at >= len(s.toks) {
		return m, 0, false
	}
	at, m.EtAl = s.others(at)
	for {
		family, start, ok := s.family(at)
		if !ok {
			break
		}
		m.Families = slices.Insert(m.Families, 0, family)
		first = start
		prev := start - 1
		before, joined := s.joiner(prev)
		switch {
		case joined:
			if prev = before; s.is(prev, ",") {
				prev--
			}
		case s.is(prev, ",") && (m.EtAl && s.toks[prev].inside >= 0 || !m.EtAl && (len(m.Families) > 1 || s.listed(first))):
			prev--
		default:
			return m, first, true
		}
		if _, _, ok := s.family(prev); !ok {
			return m, first, true
		}
		at = prev
	}
	return m, first, len(m.Families) > 0
}

// joiner passes over the joiner that ends at token at: "and", "u.".
func (s *scanner) joiner(at int) (before int, ok bool) {
	switch {
	case s.is(at, ".") && s.is(at-1, "u"):
		return at - 2, true
	case s.is(at, joiners...):
		return at - 1, true
	}
	return at, false
}

// listed reports whether a joiner stands behind the name at token first, so
// that a comma before it separates authors.
func (s *scanner) listed(first int) bool {
	for k := first; k < first+6 && k < len(s.toks); k++ {
		if s.is(k, joiners...) {
			return true
		}
	}
	return false
}

// companions stand behind a joiner for authors who are not named.
var companions = []string{
	"al", "colleagues", "coworkers", "co-workers", "others", "coauthors", "collaborators", "mitarbeiter", "mitarb", "andere",
	"coll", "collaborateurs", "autres", "col", "cols", "colaboradores", "otros", "outros", "coautores", "collaboratori", "altri", "coautori",
}

// others passes over "et al.", "and colleagues", "u. a." that end at token at.
func (s *scanner) others(at int) (int, bool) {
	k := at
	if s.is(k, ",") {
		k--
	}
	if s.is(k, ".") {
		k--
	}
	before, joined := s.joiner(k - 1)
	switch {
	case s.is(k, companions...) && joined:
		k = before
	case s.is(k, "al's", "al’s") && s.is(k-1, "et"):
		k -= 2
	case s.is(k, "s") && s.is(k-1, "'", "’") && s.is(k-2, ".") && s.is(k-3, "al") && s.is(k-4, "et"):
		k -= 5
	case s.is(k, "a") && s.is(k-1, ".") && s.is(k-2, "u"):
		k -= 3
	default:
		return at, false
	}
	if s.is(k, ",") {
		k--
	}
	return k, true
}

// family reads the family name that ends at token at, with its particles and
// initials before or after it.
func (s *scanner) family(at int) (name string, start int, ok bool) {
	at = s.initialsBefore(at)
	if at < 0 || !s.nameLike(at) {
		return "", 0, false
	}
	end := s.toks[at].end
	start = at
	for s.particle(start-1) && (!s.is(start-1, "de", "la", "di", "da", "al", "le") || s.particleHere(start-1)) {
		start--
	}
	name = strings.TrimSuffix(strings.TrimSuffix(s.text[s.toks[start].start:end], "'s"), "’s")
	for s.is(start-1, ".") && start >= 2 && s.initial(start-2) {
		start -= 2
	}
	return name, start, true
}

// particleHere keeps "de" out of a name where it is a preposition: a particle
// follows a joiner, a bracket, a comma, an initial or the start.
func (s *scanner) particleHere(i int) bool {
	return i == 0 || !s.toks[i-1].word || s.is(i-1, joiners...) || s.particle(i-1) || s.toks[i].cap
}

func (s *scanner) particle(i int) bool {
	return i >= 0 && s.toks[i].word && reference.Particle(s.toks[i].low)
}

// initialsBefore steps back over initials that follow a family name: "Hallow,
// J. K.".
func (s *scanner) initialsBefore(at int) int {
	k := at
	for s.is(k, ".") && s.initial(k-1) {
		k -= 2
	}
	if k < at && s.is(k, ",") {
		k--
	}
	if k < at && !s.nameLike(k) {
		return at
	}
	return k
}

func (s *scanner) initial(i int) bool {
	if i < 0 || i >= len(s.toks) || !s.toks[i].word {
		return false
	}
	n := 0
	for _, r := range s.raw(i) {
		if r == '-' {
			continue
		}
		if !unicode.IsUpper(r) {
			return false
		}
		n++
	}
	return n == 1 || n == 2 && strings.Contains(s.raw(i), "-")
}

// nameLike reports whether token i can be a family name: a capital and small
// letters, or capitals alone, and no month or other word that stands before
// years.
func (s *scanner) nameLike(i int) bool {
	if i < 0 || i >= len(s.toks) || !s.toks[i].word || !s.toks[i].cap {
		return false
	}
	n := 0
	for _, r := range s.raw(i) {
		if unicode.IsLetter(r) {
			n++
		}
	}
	return n >= 2 && !slices.Contains(notFamilies, s.toks[i].low)
}

// leads reports whether only lead words ("see", "e.g.", "reviewed by") or
// other mentions stand between the bracket at token open and token first.
func (s *scanner) leads(open, first int) bool {
	k := first - 1
	if s.is(k, "in", "of", "at", "from", "near", "on", "since") {
		return s.is(k-1, "reviewed", "cited", "summarised", "summarized", "data", "review")
	}
	for ; k > open; k-- {
		if s.is(k, ";", ",") {
			return true
		}
		if s.toks[k].cap && s.toks[k].end-s.toks[k].start > 1 && !slices.Contains(notFamilies, s.toks[k].low) {
			return false
		}
	}
	return true
}

// authority reports whether the author at token first belongs to the species
// name before it: "Triops cancriformis (Bosc, 1801)", "Eulimnadia texana
// Packard, 1871". Zoologists put a comma before that year.
func (s *scanner) authority(first, bracket int, opened bool) bool {
	before := first - 1
	if bracket >= 0 && !opened && before == bracket {
		before--
	}
	if opened || s.is(first+1, "et") || before < 1 || !s.toks[before].word || !epithet(s.raw(before)) {
		return false
	}
	genus := before - 1
	if s.is(genus, ".") {
		genus--
	} else if s.is(genus, ")") && genus >= 3 { // a subgenus
		genus -= 3
	}
	if genus < 0 || !s.toks[genus].word || !s.toks[genus].cap {
		return false
	}
	comma := false
	for k := first; k < first+12 && k < len(s.toks) && s.year(k) == 0; k++ {
		comma = s.is(k, ",")
	}
	return comma
}

// epithets' usual endings; English words that share them are few in front of a
// bracket with an author.
var epithetEndings = []string{"us", "a", "um", "is", "i", "ae", "ense", "ens", "ans", "ops", "ax", "ex"}

func epithet(w string) bool {
	for _, r := range w {
		if !unicode.IsLower(r) && r != '-' {
			return false
		}
	}
	if len(w) < 4 {
		return false
	}
	for _, e := range epithetEndings {
		if strings.HasSuffix(w, e) {
			return true
		}
	}
	return false
}
