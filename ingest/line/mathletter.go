package line

import (
	"strings"
	"unicode/utf8"
)

// Letters and digits that stand for themselves in the type of mathematics, as in
// "𝑛 = 20" (Unicode's block of mathematical alphanumeric symbols, U+1D400 to U+1D7FF,
// with the letters that were encoded before it).
const (
	firstMath   = 0x1D400
	dotlessI    = 0x1D6A4
	dotlessJ    = 0x1D6A5
	mathGreek   = 0x1D6A8
	mathDigamma = 0x1D7CA
	mathDigits  = 0x1D7CE
	lastMath    = 0x1D7FF
)

// mathAlphabet is how many letters each Latin alphabet of the block has, large
// and small; mathGreekRow is the order of each Greek one.
const mathAlphabet = 52

var mathGreekRow = []rune("ΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΘΣΤΥΦΧΨΩ∇αβγδεζηθικλμνξοπρςστυφχψω∂εθκφρπ")

// plainLetter returns the letter or digit that r prints in a style of
// mathematics, else r.
func plainLetter(r rune) rune {
	switch {
	case r >= 'ℂ' && r <= 'ℴ':
		return letterlike(r)
	case r < firstMath || r > lastMath:
		return r
	case r >= mathDigits:
		return '0' + (r-mathDigits)%10
	case r >= mathDigamma:
		return 'Ϝ' + r - mathDigamma
	case r >= mathGreek:
		return mathGreekRow[int(r-mathGreek)%len(mathGreekRow)]
	case r == dotlessI:
		return 'ı'
	case r == dotlessJ:
		return 'ȷ'
	case r > dotlessJ:
		return r // not given out
	}
	at := (r - firstMath) % mathAlphabet
	if at < mathAlphabet/2 {
		return 'A' + at
	}
	return 'a' + at - mathAlphabet/2
}

// letterlike returns the letter of a sign that fills a gap of the block.
func letterlike(r rune) rune {
	const signs, letters = "ℂℊℋℌℍℎℐℑℒℓℕℙℚℛℜℝℤℨℬℭℯℰℱℳℴ", "CgHHHhIILlNPQRRRZZBCeEFMo"
	if i := strings.IndexRune(signs, r); i >= 0 {
		return rune(letters[utf8.RuneCountInString(signs[:i])])
	}
	return r
}
