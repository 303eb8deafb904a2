package letter

import "testing"

func TestCompose(t *testing.T) {
	for _, c := range []struct{ letter, accent, want rune }{
		{'a', '\u0308', 'ä'}, {'E', '\u0301', 'É'}, {'c', '\u0327', 'ç'}, {'s', '\u030C', 'š'}, {'u', '\u030A', 'ů'}, {'o', '\u030B', 'ő'},
		{'g', '\u0306', 'ğ'}, {'a', '\u0328', 'ą'}, {'ı', '\u0301', 'í'}, {'ȷ', '\u0302', 'ĵ'}, {'é', '\u0301', 0},
		{'V', '\u0307', 0}, // the sign of a rate; Unicode has no such letter
		{'1', '\u0308', 0}, {'\uFFFD', '\u0301', 0},
	} {
		if got := Compose(c.letter, c.accent); got != c.want {
			t.Errorf("%c with %U: %q, want %q", c.letter, c.accent, got, c.want)
		}
	}
}

func TestBare(t *testing.T) {
	for letter, want := range map[rune]string{'é': "e", 'Å': "A", 'ů': "u", 'ṁ': "m", 'ﬁ': "fi", 'ﬄ': "ffl", 'a': "a", 'ß': "ß", 'ø': "ø", 'ж': "ж", 'й': "и", '\u0301': ""} {
		if got := Bare(letter); got != want {
			t.Errorf("%c: %q, want %q", letter, got, want)
		}
	}
}

// FuzzCompose: what is put together comes apart again.
func FuzzCompose(f *testing.F) {
	f.Add('a', '\u0308')
	f.Add('ı', '\u0301')
	f.Fuzz(func(t *testing.T, letter, accent rune) {
		if r := Compose(letter, accent); r != 0 && Bare(r) != Bare(letter)+Bare(accent) && letter != 'ı' && letter != 'ȷ' {
			t.Errorf("%U and %U make %U, which is bare %q", letter, accent, r, Bare(r))
		}
	})
}

// The letters are those of the compatibility mapping in UnicodeData.txt (Unicode
// 16.0).
func TestPlain(t *testing.T) {
	for r, want := range map[rune]rune{
		'𝑛': 'n', '𝑌': 'Y', '𝐀': 'A', '𝐳': 'z', '𝓏': 'z', '𝔸': 'A', '𝖺': 'a', '𝘇': 'z', '𝙰': 'A', '𝚣': 'z',
		'ℎ': 'h', 'ℓ': 'l', 'ℝ': 'R', 'ℴ': 'o', '𝚤': 'ı', '𝚥': 'ȷ',
		'𝛼': 'α', '𝜇': 'μ', '𝝎': 'ω', '𝚨': 'Α', '𝚹': 'Θ', '𝜎': 'σ', '𝞿': 'φ', '𝟉': 'π', '𝟊': 'Ϝ', '𝟋': 'ϝ', '𝛁': '∇', '𝟃': '∂',
		'𝟎': '0', '𝟗': '9', '𝟢': '0', '𝟿': '9',
		'n': 'n', '℃': '℃', 'Ω': 'Ω', 'é': 'é', '😀': '😀', 0x1D6A6: 0x1D6A6,
	} {
		if got := Plain(r); got != want {
			t.Errorf("%c (%U) is printed %c, want %c", r, r, got, want)
		}
	}
}
