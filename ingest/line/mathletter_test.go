package line

import "testing"

// The letters are those of the compatibility mapping in UnicodeData.txt (Unicode
// 16.0).
func TestPlainLetter(t *testing.T) {
	for r, want := range map[rune]rune{
		'𝑛': 'n', '𝑌': 'Y', '𝐀': 'A', '𝐳': 'z', '𝓏': 'z', '𝔸': 'A', '𝖺': 'a', '𝘇': 'z', '𝙰': 'A', '𝚣': 'z',
		'ℎ': 'h', 'ℓ': 'l', 'ℝ': 'R', 'ℴ': 'o', '𝚤': 'ı', '𝚥': 'ȷ',
		'𝛼': 'α', '𝜇': 'μ', '𝝎': 'ω', '𝚨': 'Α', '𝚹': 'Θ', '𝜎': 'σ', '𝞿': 'φ', '𝟉': 'π', '𝟊': 'Ϝ', '𝟋': 'ϝ', '𝛁': '∇', '𝟃': '∂',
		'𝟎': '0', '𝟗': '9', '𝟢': '0', '𝟿': '9',
		'n': 'n', '℃': '℃', 'Ω': 'Ω', 'é': 'é', '😀': '😀', 0x1D6A6: 0x1D6A6,
	} {
		if got := plainLetter(r); got != want {
			t.Errorf("%c (%U) is printed %c, want %c", r, r, got, want)
		}
	}
}
