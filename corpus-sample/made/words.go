package made

import (
	"math/rand/v2"
	"strings"
)

// vocabularySize is far above what a library of some hundred thousand pages
// comes to use, so that new words keep coming, as in prose.
const vocabularySize = 120_000

// vocabulary returns words by falling frequency: the common ones of English
// and the trade's at about the ranks that they have in papers, then invented
// ones.
func vocabulary() []string {
	words := strings.Fields(`the of and in to a was were with for at by from that on as is be or not which this are eggs after it temperature water
		cysts hatching no days all hatched between these had drying than pond population cold during species each period two other egg
		salinity hours light incubation larvae sediment diapause pools storage frozen hatch dried nauplii trigger flooding`)
	syllables := strings.Fields(`ba re ti mo lu ka ne so vi da pe ro li mu ga to sa ni fe lo cu ra di be po an er on is ar en ul ith orm est`)
	rnd := rand.New(rand.NewPCG(1, 1)) // the same words for every corpus
	seen := map[string]bool{}
	for _, w := range words {
		seen[w] = true
	}
	for len(words) < vocabularySize {
		w := ""
		for range 2 + rnd.IntN(3) {
			w += syllables[rnd.IntN(len(syllables))]
		}
		if !seen[w] {
			seen[w] = true
			words = append(words, w)
		}
	}
	return words
}
