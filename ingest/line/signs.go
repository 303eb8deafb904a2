package line

import (
	"hatchlore/ingest"
)

// texLigature maps the codes of ligatures in TeX's text fonts (OT1 encoding,
// the codes 11 to 15), which old files leave unmapped.
func texLigature(r rune) string {
	if r < 11 || r > 15 {
		return ""
	}
	return [...]string{"ff", "fi", "fl", "ffi", "ffl"}[r-11]
}

func symbolDegree(r rune) bool { return r == '\uF0B0' }

// signOf returns the sign that fonts of signs draw under the code of an ASCII
// character (from memory, as seen in what becomes of "20 ± 1 °C" in papers set with
// such a font), 0 for none.
func signOf(r rune) rune {
	switch r {
	case '1':
		return '+'
	case '2':
		return '−'
	case '3':
		return '×'
	case '4':
		return '÷'
	case '5':
		return '='
	case '6':
		return '±'
	case '8':
		return '°'
	case ',':
		return '<'
	case '.':
		return '>'
	case '#':
		return '≤'
	case '$':
		return '≥'
	case '0', '7', '9':
		return ingest.Lost
	}
	return 0
}

func ligature(r rune) string {
	switch r {
	case 'ﬀ':
		return "ff"
	case 'ﬁ':
		return "fi"
	case 'ﬂ':
		return "fl"
	case 'ﬃ':
		return "ffi"
	case 'ﬄ':
		return "ffl"
	case 'ﬅ', 'ﬆ':
		return "st"
	}
	return ""
}

// symbolFont maps the private-use codes under which Adobe's Symbol font is
// often embedded (U+F000 + its own encoding) for the signs that numbers need.
func symbolFont(r rune) rune {
	switch r {
	case '\uF0B0':
		return '°'
	case '\uF0B1':
		return '±'
	case '\uF02D':
		return '−'
	case '\uF0B4':
		return '×'
	case '\uF0A3':
		return '≤'
	case '\uF0B3':
		return '≥'
	case '\uF06D':
		return 'µ'
	case '\uF03C':
		return '<'
	case '\uF03E':
		return '>'
	case '\uF07E':
		return '~'
	case '\uF025':
		return '%'
	}
	return 0
}
