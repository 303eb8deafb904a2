package reference

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// marks are what papers hang on authors' names: footnote signs, raised digits,
// affiliation letters.
var (
	marks       = regexp.MustCompile(`[*†‡§¶#✉⁎∗]|[\d⁰¹²³⁴⁵⁶⁷⁸⁹]+|\b[a-df-xz]\b`)
	separators  = regexp.MustCompile(`\s*(?:[;·•|]|\s&\s|\s(?:and|und|et|y|e|with|mit)\s)\s*`)
	etAl        = regexp.MustCompile(`[,\s` + lostMark + `]+(?:et al\.?|u\. ?a\.|and others)`)
	degrees     = regexp.MustCompile(`(?i),?\s*\b(?:ph\.?\s?d|m\.?\s?sc|b\.?\s?sc|m\.?d|dr|prof|jr|sr|iii?)\b\.?`)
	institution = regexp.MustCompile(`(?i)\b(?:universit|universidad|università|institut|department|departamento|dept|faculty|facult|school|college|laborator|museum|centre|center|society|academy|station|survey|service|foundation|ministry|agency|program|hochschule|fakultät|street|avenue|road|p\.o\.|box|usa|germany|france|spain|italy|australia|canada|japan|china|brazil|united|kingdom|states|journal|volume|abstract|summary|keywords|received|accepted|published|open|access|research|article|review|original|copyright|vol|biology|science|ecology|conservation|vignette|version|package|edited|reviewed)`)
	initialsRun = regexp.MustCompile(`^(?:\p{Lu}\.?[- ]?){1,4}$`)
)

// parseAuthors reads a list of authors, all of it or nothing: "Hallow, J. K.,
// Birk, A. & Moor, P.", "Hallow JK, Birk A", "Joanna K. Hallow, Anders Birk".
func parseAuthors(list string) ([]Author, bool) {
	list = etAl.ReplaceAllString(list, "")
	list = degrees.ReplaceAllString(list, "")
	list = strings.Trim(list, " ,;:("+lostLetter)
	if w := list[strings.LastIndexAny(list, " .,")+1:]; w == "" && len(list) > 0 {
		w = strings.TrimSuffix(list, ".")
		if w = w[strings.LastIndexAny(w, " .,")+1:]; utf8.RuneCountInString(w) > 1 && !isInitials(w) {
			list = strings.TrimSuffix(list, ".") // the stop ends the list, not an initial
		}
	}
	list = separators.ReplaceAllString(" "+list+" ", ",")
	var out []Author
	for chunk := range strings.SplitSeq(list, ",") {
		chunk = strings.TrimSpace(chunk)
		switch {
		case chunk == "":
		case isInitials(chunk):
			if len(out) == 0 || out[len(out)-1].Given != "" {
				return nil, false
			}
			out[len(out)-1].Given = chunk
		default:
			a, ok := oneAuthor(chunk)
			if !ok {
				return nil, false
			}
			out = append(out, a)
		}
	}
	return out, len(out) > 0
}

func isInitials(s string) bool {
	if !initialsRun.MatchString(s) {
		return false
	}
	letters := 0
	for _, r := range s {
		if unicode.IsLetter(r) {
			letters++
		}
	}
	return letters <= 4 && (strings.ContainsAny(s, ".- ") || letters <= 3)
}

// oneAuthor reads one name in either order.
func oneAuthor(s string) (Author, bool) {
	words := strings.Fields(s)
	if len(words) == 0 || len(words) > 6 || institution.MatchString(s) {
		return Author{}, false
	}
	names := 0
	for _, w := range words {
		if nameWord(w) && !isInitials(w) {
			names++
		}
		if !nameWord(w) && !isInitials(w) && !Particle(strings.ToLower(w)) {
			return Author{}, false
		}
	}
	if names > 4 {
		return Author{}, false
	}
	n := len(words)
	tail := n
	for tail > 0 && isInitials(words[tail-1]) {
		tail--
	}
	switch {
	case tail == 0:
		return Author{}, false
	case tail < n && (tail == 1 || Particle(strings.ToLower(words[0]))): // Hallow JK
		return Author{Given: strings.Join(words[tail:], " "), Family: properCase(strings.Join(words[:tail], " "))}, true
	case tail < n:
		return Author{}, false
	}
	from := n - 1
	for from > 0 && Particle(strings.ToLower(words[from-1])) {
		from--
	}
	if !nameWord(words[n-1]) {
		return Author{}, false
	}
	return Author{Given: strings.Join(words[:from], " "), Family: properCase(strings.Join(words[from:], " "))}, true
}

// nameWord reports whether w could be a name: a capital, then letters.
func nameWord(w string) bool {
	letters := 0
	for i, r := range w {
		switch {
		case i == 0 && !unicode.IsUpper(r):
			return false
		case unicode.IsLetter(r):
			letters++
		case r != '-' && r != '\'' && r != '’' && r != '‐' && !unicode.Is(unicode.Mn, r):
			return false
		}
	}
	return letters >= 2
}

// properCase undoes capitals: "VAN DER MOOR" is "Van der Moor".
func properCase(s string) string {
	if strings.ToUpper(s) != s || len(s) < 3 {
		return s
	}
	words := strings.Fields(strings.ToLower(s))
	for i, w := range words {
		if i > 0 && Particle(w) || len(words) > 1 && i < len(words)-1 && Particle(w) {
			continue
		}
		r := []rune(w)
		up := true
		for k := range r {
			if up {
				r[k] = unicode.ToUpper(r[k])
			}
			up = r[k] == '-' || r[k] == '\'' || r[k] == '’'
		}
		words[i] = string(r)
	}
	return strings.Join(words, " ")
}

// ListedAuthor reads one name of a list of names, as files of references have
// them: "Hallow, Joanna K." or "Joanna K. Hallow". A name that is
// neither is taken whole, as an institution's.
func ListedAuthor(s string) (Author, bool) {
	s = strings.Join(strings.Fields(s), " ")
	if family, given, ok := strings.Cut(s, ","); ok {
		given = strings.TrimSpace(given)
		if suffix, rest, ok := strings.Cut(given, ","); ok && strings.TrimSpace(rest) != "" && degrees.MatchString(suffix) {
			given = strings.TrimSpace(rest) // Hallow, Jr, Joanna
		}
		family = strings.TrimSpace(family)
		return Author{Given: strings.Trim(given, " ,"), Family: family}, family != ""
	}
	if a, ok := oneAuthor(s); ok {
		return a, true
	}
	return Author{Family: s}, s != ""
}
