package pdf

import "regexp"

// boldName and italicName match font names that say so, as foundries and
// typesetters abbreviate it.
var (
	boldName   = regexp.MustCompile(`(?i)bold|black|heavy|demi|cmbx|[-.,](?:b|bd|bi)(?:\+|\x00|$)`)
	italicName = regexp.MustCompile(`(?i)ital|obliq|slant|kursiv|cmti|cmsl|cmbxti|lmroman[a-z]*[0-9]*-it|[-.,](?:i|it|bi)(?:\+|\x00|$)`)
)

// signsName matches the names of fonts of mathematical signs in which the codes of
// digits and punctuation draw signs (from memory, of papers of the years about 2000).
var signsName = regexp.MustCompile(`(?i)math(?:ematical)?-?pi|universal-?greek|mathpack`)

// HasSigns tells from a font's name whether it has signs in place of ASCII.
func HasSigns(fontName string) bool { return signsName.MatchString(fontName) }

// Face tells from a font's name how it looks.
func Face(fontName string) (bold, italic bool) {
	return boldName.MatchString(fontName), italicName.MatchString(fontName)
}
