package language

import (
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
