package quantity

import (
	"strings"
	"unicode/utf8"
)

// splitCompounds parts German adjectives made of a number word and a measure,
// "zweimonatige", "achtwöchigen", into the two words that they count with.
func (p *page) splitCompounds() {
	var out []token // nil until the first compound
	for i, t := range p.toks {
		at := 0
		if t.kind == word {
			at = p.compoundSeam(t.key)
		}
		if at == 0 {
			if out != nil {
				out = append(out, t)
			}
			continue
		}
		if out == nil {
			out = append(make([]token, 0, len(p.toks)+8), p.toks[:i]...)
		}
		number, measure := t, t
		number.end, number.key = t.start+at, t.key[:at]
		measure.start, measure.key, measure.glued = t.start+at, t.key[at:], true
		out = append(out, number, measure)
	}
	if out != nil {
		p.toks = out
	}
}

// compoundSeam returns where the measure begins in a compound, 0 for none. The
// key of a word has as many bytes as the word where it has no capital beyond
// those of the alphabet, so an offset into one is one into the other.
func (p *page) compoundSeam(key string) int {
	const shortest, inflected = 8, 4 // "dreitägig", "-ig" with its endings
	if len(key) < shortest || !strings.Contains(key[len(key)-inflected:], "ig") {
		return 0
	}
	for at := 3; at < len(key)-inflected; at++ {
		if !utf8.RuneStart(key[at]) {
			continue
		}
		if p.alone(roleNumber, key[:at]) && p.alone(roleUnit, key[at:]) {
			return at
		}
	}
	return 0
}

// alone reports whether a single word has the role.
func (p *page) alone(r role, key string) bool {
	for _, e := range p.lx.first[r][key] {
		if len(e.words) == 1 {
			return true
		}
	}
	return false
}
