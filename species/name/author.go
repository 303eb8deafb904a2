package name

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// particles of surnames that start with a small letter.
var particles = wordlist{"de": true, "von": true, "van": true, "der": true, "den": true, "du": true, "la": true, "le": true, "da": true, "di": true, "in": true, "et": true, "and": true}

// firstYear is that of the zoological code's starting point; a bracketed year
// after lastBracketed is far more often a citation than an authorship.
const (
	firstYear     = 1757
	lastBracketed = 1990
	lastYear      = 2100
	longestAuthor = 14 // words
)

// author reads an authorship at word i in the forms "(Packard, 1874)",
// "Packard, 1874", "Packard 1874", "(Bosc)", "Linnaeus" and "L.".
func (r reader) author(i int) (author string, end int) {
	if r.at(i).before == paragraph {
		return "", 0
	}
	if r.is(i, "(") {
		a, year, next := r.surnames(i + 1)
		if a == "" || !r.is(next, ")") || year > lastBracketed || year == 0 && strings.ContainsAny(a, "&,") {
			return "", 0
		}
		if year == 0 && genusForm(a) == telling {
			return "", 0
		}
		return r.text[r.at(i).end:r.at(next).start], r.at(next).end
	}
	if w := r.at(i); w.text == "L" && r.is(i+1, ".") && r.at(i+1).before == joined {
		return "L.", r.at(i + 1).end
	} else if w.text == "Linnaeus" || w.text == "Linné" {
		if _, year, next := r.surnames(i); year > 0 {
			return r.text[w.start:r.at(next-1).end], r.at(next - 1).end
		}
		return w.text, w.end
	}
	a, year, next := r.surnames(i)
	if a == "" || year == 0 {
		return "", 0
	}
	return r.text[r.at(i).start:r.at(next-1).end], r.at(next - 1).end
}

// surnames reads one or more surnames and a year, if there is one, from word
// i on; next is the word after them. A year with a letter ("1990a") is a
// citation's, and so is "et al.".
func (r reader) surnames(i int) (names string, year, next int) {
	start, capitals := i, 0
	for ; i < start+longestAuthor; i++ {
		w := r.at(i)
		if w.before == paragraph {
			return "", 0, i
		}
		switch {
		case w.kind == letters && (isSurname(w.text) || isUpper(w.text) && len(w.text) == 1):
			capitals++
		case w.kind == letters && particles[w.text]:
		case w.text == "." || w.text == "," || w.text == "&" || w.text == "-" || w.text == "'" || w.text == "’":
		case w.kind == digits && capitals > 0:
			y, err := strconv.Atoi(w.text)
			if err != nil || y < firstYear || y > lastYear || r.at(i+1).kind == letters && r.at(i+1).before == joined {
				return "", 0, i
			}
			return r.text[r.at(start).start:r.at(i-1).end], y, i + 1
		default:
			if capitals == 0 {
				return "", 0, i
			}
			return r.text[r.at(start).start:r.at(i-1).end], 0, i
		}
	}
	return "", 0, i
}

// isSurname takes "LeConte" as well as "Packard".
func isSurname(s string) bool {
	r, n := utf8.DecodeRuneInString(s)
	return unicode.IsUpper(r) && n < len(s) && !isUpper(s)
}
