package accent

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
