package marked

import (
	"os"
	"slices"
	"strings"
	"testing"
)

func TestSentences(t *testing.T) {
	words, err := Load(os.DirFS(".."))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, lang, text string // sentences parted by |
	}{
		{"plain", "en", "Eggs hatched. | None died! | Why?"},
		{"unit before the stop", "en", "It was kept at 4 °C. | The eggs hatched at 20 C. | They swam."},
		{"open nomenclature", "en", "Triops spp. hatch at 20 °C. | Fictia sp. did not."},
		{"abbreviation then a new sentence", "en", "It held Triops spp. | The eggs hatched."},
		{"citations", "en", "Miller et al. 1980 and Smith (cf. Fig. 3) saw it. | Others did not (K. Lind, pers. comm.). | We did."},
		{"abbreviated genus", "en", "Hatching of F. alba and F. nigra was studied. | F. alba hatched."},
		{"decimals and thousands", "en", "It took 2.5 d at 1,200 µS/cm. | Then it ended."},
		{"German abbreviations", "de", "Die Eier, z. B. von Triops, schlüpfen bei ca. 20 °C. | Die Larven schwimmen."},
		{"German ordinals", "de", "Am 3. Mai begann der Versuch, am 12. Tag erschienen Larven. | Es waren 17. | Alle lebten."},
		{"numbered headings that run in", "en", "3.3.4 Temperature: emergence is not hatching | Basin eggs hatched at 10 °C. | 3.3.5 A second flood | Dishes that had finished were drained."},
		{"a number that labels nothing", "en", "4.5 % of the eggs hatched. | 3.2 Eggs in a dish were enough."},
		{"French", "fr", "Les œufs éclosent en 2 j env. à 20 °C. | Les larves nagent."},
	} {
		t.Run(c.name, func(t *testing.T) {
			want := strings.Split(c.text, " | ")
			text := strings.Join(want, " ")
			var got []string
			for _, s := range sentences(text, 0, len(text), words.Lexicons[c.lang]) {
				got = append(got, text[s.Start:s.End])
			}
			if !slices.Equal(got, want) {
				t.Errorf("got  %q\nwant %q", got, want)
			}
		})
	}
	text := "Conditions:\n- 20 °C\n- light\n\nEggs hatch\nin two days."
	if got := sentences(text, 0, len(text), words.Lexicons["en"]); len(got) != 4 {
		t.Errorf("%d sentences in a list, want 4: %v", len(got), got)
	}
}

func FuzzSentences(f *testing.F) {
	f.Add("Eggs of F. alba hatched at 4 °C. None did (Fig. 3).\n- a\n\nb…")
	words, err := Load(os.DirFS(".."))
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		last := 0
		for _, s := range sentences(text, 0, len(text), words.Lexicons["en"]) {
			if s.Start < last || s.End <= s.Start || s.End > len(text) {
				t.Fatalf("sentence %v behind %d in %d bytes", s, last, len(text))
			}
			if strings.TrimSpace(text[last:s.Start]) != "" {
				t.Fatalf("lost %q", text[last:s.Start])
			}
			last = s.End
		}
		if strings.TrimSpace(text[last:]) != "" {
			t.Fatalf("lost %q at the end", text[last:])
		}
	})
}
