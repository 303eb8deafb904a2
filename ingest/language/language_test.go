package language

import (
	"slices"
	"strings"
	"testing"
)

func TestLanguage(t *testing.T) {
	for want, text := range map[string]string{
		"en": "The eggs of the shrimp were held in the dark, and they hatched at a temperature of the water that was not as cold as that of the pools in which it lives.",
		"de": "Die Eier der Krebse wurden im Dunkeln gehalten, und sie schlüpften bei einer Temperatur, die nicht so kalt war wie die der Tümpel, in denen sie leben.",
		"fr": "Les œufs de la crevette ont été gardés dans le noir, et ils ont éclos à une température qui est plus élevée que celle de la mare où elle vit.",
		"es": "Los huevos de la especie se guardaron en la oscuridad y con el agua de las lagunas, y los nauplios salieron a una temperatura más alta que la del campo.",
		"":   "28 30 45 61",
	} {
		if got := Of(text); got != want {
			t.Errorf("%q is taken for %q, want %q", text, got, want)
		}
	}
}

// TestShortWords: the same words as Words, with "" for those longer than any
// stop word.
func TestShortWords(t *testing.T) {
	for _, text := range []string{
		"", "the Eggs of THE shrimp", "Größe der Eier: 0.2 mm, \u0130\u212a \u1e9e \u1e9e\u1e9e\u1e9e\u1e9e\u1e9e", "één-twee\xff drie", "l'été  où", "…wurden", "hatching", strings.Repeat("é", longestStop),
	} {
		var got []string
		for w := range shortWords(text) {
			got = append(got, w)
		}
		var want []string
		for _, w := range Words(text) {
			if len(w) > longestStop {
				w = ""
			}
			want = append(want, w)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
