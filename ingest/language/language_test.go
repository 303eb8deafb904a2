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
		"it": "Le uova della specie furono tenute al buio e con l'acqua delle pozze, e i nauplii uscirono a una temperatura più alta di quella che si trova nel campo.",
		"pt": "Os ovos da espécie foram guardados no escuro com a água das poças, e os náuplios não saíram a uma temperatura mais alta do que a que se mede em campo.",
		"nl": "De eieren van de soort werden in het donker bewaard met water uit de poelen, en zij kwamen niet uit bij een temperatuur die hoger is dan die van het veld.",
		"sv": "Äggen av arten hölls i mörker och i vatten från pölarna, och de kläcktes inte vid en temperatur som var högre än den som är vanlig i fält om våren.",
		"da": "Æggene af arten blev holdt i mørke og i vand fra vandhullerne, og de klækkede ikke ved en temperatur der var højere end den som er almindelig i felten om foråret.",
		"pl": "Jaja tego gatunku były trzymane w ciemności i w wodzie z kałuż, a larwy nie wykluły się przy temperaturze wyższej od tej, jaka jest w polu na wiosnę, i to po roku.",
		"cs": "Vajíčka druhu byla držena ve tmě a ve vodě z tůní, a larvy se nelíhly při teplotě vyšší než ta, která je v poli na jaře, jako i po zimě nebo po létě.",
		"hu": "A faj petéit sötétben és a pocsolyák vizében tartották, és a lárvák nem keltek ki, ha a víz melegebb volt, mint az a víz, amely tavasszal van a mezőn, vagy ez után.",
		"ru": "Яйца вида были в темноте и в воде из луж, а личинки не вышли при температуре выше той, что была в поле по весне, как это было и до того для других.",
		"tr": "Bu türün yumurtaları karanlıkta ve göletlerin suyu ile tutuldu, ve larvalar ilkbaharda olarak bilinen sıcaklık için daha çok beklendi, bir kış gibi olan da bu suda.",
		"id": "Telur dari jenis ini disimpan dalam gelap dengan air dari kolam, dan larva tidak menetas pada suhu yang lebih tinggi untuk air itu atau di tempat yang kering.",
		"":   "28 30 45 61",
	} {
		if got := Of(text); got != want {
			t.Errorf("%q is taken for %q, want %q", text, got, want)
		}
	}
}

// TestLanguageOfPaper: the language of most pages is the paper's, whatever its
// abstract is written in.
func TestLanguageOfPaper(t *testing.T) {
	english := "The eggs of the shrimp were held in the dark, and they hatched at a temperature of the water that was as cold as that of the pools."
	german := "Die Eier der Krebse wurden im Dunkeln gehalten, und sie schlüpften bei einer Temperatur, die nicht so kalt war wie die der Tümpel."
	for want, pages := range map[string][]string{"de": {english, german, german, german}, "en": {english, english, english, german}} {
		if got := Of(pages...); got != want {
			t.Errorf("%q: %q, want %q", pages, got, want)
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
