package quantity

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

type tokenKind uint8

const (
	word   tokenKind = iota // letters, with digits after the first: "eggs", "O2", "T10"
	figure                  // a number in digits, with its sign
	mark                    // any other single character
	gap                     // an empty line
)

// token is a word, number or mark of a text, with its bytes.
type token struct {
	start, end int
	kind       tokenKind
	key        string // lower case; dashes, degree signs and micro signs are one each
	value      float64
	glued      bool // no white space before it
	plain      bool // digits only
}

// page is a text cut into tokens, with the words to read it by.
type page struct {
	text string
	toks []token
	lx   *lexicon
}

func (p *page) raw(i int) string { return p.text[p.toks[i].start:p.toks[i].end] }

// key returns the key of token i, "" outside the text.
func (p *page) key(i int) string {
	if i < 0 || i >= len(p.toks) {
		return ""
	}
	return p.toks[i].key
}

func (p *page) is(i int, k tokenKind) bool { return i >= 0 && i < len(p.toks) && p.toks[i].kind == k }

func (p *page) glued(i int) bool { return i > 0 && i < len(p.toks) && p.toks[i].glued }

// tokenize cuts text into tokens. Bytes that are no UTF-8 count as white space.
func tokenize(text string) []token {
	toks := make([]token, 0, len(text)/5+4)
	lx := lexer{text: text, commas: decimalCommas(text)}
	for lx.pos < len(text) {
		if t, ok := lx.next(toks); ok {
			t.glued = len(toks) > 0 && toks[len(toks)-1].end == t.start
			toks = append(toks, t)
		}
	}
	return toks
}

type lexer struct {
	text   string
	pos    int
	commas bool // the text writes decimal commas
}

// next reads one token, given those before it, or skips white space.
func (lx *lexer) next(before []token) (token, bool) {
	start := lx.pos
	r, size := utf8.DecodeRuneInString(lx.text[start:])
	switch {
	case r == '\n' && emptyLine(lx.text[start+1:]):
		lx.pos++
		return token{start: start, end: start, kind: gap}, true
	case unicode.IsSpace(r) || r == utf8.RuneError || unicode.IsControl(r) || r == '\u00ad' || r == '\u200b' || r == '\ufeff':
		lx.pos += size
		return token{}, false
	case isDigit(lx.text, start) || (r == '.' && isDigit(lx.text, start+1)) || lx.signed(start, r, size, before):
		return lx.figure(start, r, size), true
	case isLetter(r):
		lx.pos = wordEnd(lx.text, start)
		return token{start: start, end: lx.pos, kind: word, key: fold(lx.text[start:lx.pos])}, true
	}
	lx.pos += size
	if v, ok := glyphFraction(r); ok {
		return token{start: start, end: lx.pos, kind: figure, value: v, key: lx.text[start:lx.pos]}, true
	}
	return token{start: start, end: lx.pos, kind: mark, key: markKey(r, lx.text[start:lx.pos])}, true
}

func (lx *lexer) figure(start int, r rune, size int) token {
	at := start
	if isDash(r) {
		at += size
		if c, n := utf8.DecodeRuneInString(lx.text[at:]); c == ' ' || c == '\u00a0' {
			at += n
		}
	}
	end, v, plain := scanNumber(lx.text, at, lx.commas)
	if isDash(r) {
		v = -v
	}
	lx.pos = end
	return token{start: start, end: end, kind: figure, value: v, plain: plain && at == start, key: "0"}
}

// signed reports whether the dash at start is a minus sign: a number follows,
// and what stands before it is neither a number nor glued to it. A true minus
// sign may have a blank after it, where nothing before it makes it a dash.
func (lx *lexer) signed(start int, r rune, size int, before []token) bool {
	if !isDash(r) {
		return false
	}
	at := start + size
	if strings.HasPrefix(lx.text[at:], " ") && (r == '−' || loneDash(r) && len(before) > 0 && leadsToNumber(before[len(before)-1].key)) {
		at++
		if len(before) > 0 && (before[len(before)-1].kind == figure || before[len(before)-1].key == "°" || before[len(before)-1].key == "%") {
			return false
		}
	}
	if !isDigit(lx.text, at) && !(at < len(lx.text) && lx.text[at] == '.' && isDigit(lx.text, at+1)) {
		return false
	}
	if len(before) == 0 {
		return true
	}
	last := before[len(before)-1]
	if last.end != start { // "20° -25 °C" is a range
		return last.kind != figure && last.key != "°" && last.key != "%" && !(last.key == "c" && len(before) > 1 && before[len(before)-2].key == "°")
	}
	return last.kind == mark && last.key != ")" && last.key != "%" && last.key != "°" && last.key != "‰" && last.key != "]"
}

// loneDash reports whether r is a dash that typesetters put for a minus sign.
func loneDash(r rune) bool { return r == '-' || r == '–' || r == '—' || r == '‐' || r == '‑' }

// leadsToNumber reports whether a word calls for a value, so that a dash
// behind it, with a blank after, is a minus sign: "at – 18 °C", "bei - 18 °C".
func leadsToNumber(key string) bool {
	switch key {
	case "at", "to", "of", "bei", "auf", "à", "a", "di", "em":
		return true
	}
	return false
}

func emptyLine(rest string) bool {
	for i := 0; i < len(rest); i++ {
		switch rest[i] {
		case '\n':
			return true
		case ' ', '\t', '\r':
		default:
			return false
		}
	}
	return false
}

func isDash(r rune) bool {
	switch r {
	case '-', '‐', '‑', '–', '—', '−', '‒', '﹣', '－':
		return true
	}
	return false
}

func isDigit(s string, i int) bool { return i >= 0 && i < len(s) && s[i] >= '0' && s[i] <= '9' }

func isLetter(r rune) bool {
	return r != 'º' && r != 'ª' && (unicode.IsLetter(r) || unicode.Is(unicode.Mn, r))
}

// wordEnd returns the end of the word at start. Digits belong to a word
// ("O2", "T10"), except after pH and the letters of a light cycle ("L16:D8").
func wordEnd(s string, start int) int {
	i := start
	for i < len(s) {
		r, n := utf8.DecodeRuneInString(s[i:])
		if digit := r >= '0' && r <= '9'; !isLetter(r) && !isLowered(r) && !(digit && !valueFollows(s[start:i])) {
			break
		}
		i += n
	}
	return i
}

// isLowered reports whether r is a digit of a formula, as in "O₂".
func isLowered(r rune) bool { return r >= '₀' && r <= '₉' }

func valueFollows(s string) bool {
	switch s {
	case "pH", "PH", "L", "D", "LD":
		return true
	}
	return false
}

// fold returns the lower-case key of a word, with the digits of a formula as
// plain ones.
func fold(s string) string {
	s = strings.ToLower(foldMicro(s))
	if strings.IndexFunc(s, isLowered) < 0 {
		return s
	}
	return strings.Map(func(r rune) rune {
		if isLowered(r) {
			return r - '₀' + '0'
		}
		return r
	}, s)
}

// foldMicro makes the micro sign and the Greek letter one.
func foldMicro(s string) string {
	if strings.ContainsRune(s, 'μ') {
		return strings.ReplaceAll(s, "μ", "µ")
	}
	return s
}

// exactKey is the key of a spelling whose case counts.
func exactKey(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == len(s) && !isLetter(r) {
		return markKey(r, s)
	}
	return foldMicro(s)
}

func markKey(r rune, s string) string {
	switch {
	case isDash(r):
		return "-"
	case r == 'º' || r == '°' || r == '˚' || r == '◦' || r == '∘' || r == '⁰' || r == 'ᵒ':
		return "°"
	case r == '’' || r == '‘' || r == '′' || r == '´':
		return "'"
	}
	return s
}

func glyphFraction(r rune) (float64, bool) {
	switch r {
	case '½':
		return 0.5, true
	case '¼':
		return 0.25, true
	case '¾':
		return 0.75, true
	}
	return 0, false
}
