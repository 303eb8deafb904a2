package species

import (
	"math/rand/v2"
	"testing"

	"hatchlore/species/speciestest"
	"hatchlore/species/table"
	"hatchlore/species/taxonomy"
	"hatchlore/species/witness"
)

// BenchmarkLibrary is a library of 10,000 claims over 300 species.
func BenchmarkLibrary(b *testing.B) {
	r := rand.New(rand.NewPCG(5, 6))
	claims := speciestest.MadeUp(r, 10000)
	library := witness.Library{}
	for i := range claims {
		claims[i].Taxon = "Vernocephala " + string(rune('a'+i%15)) + string(rune('a'+i/15%20)) + "ensis"
		claims[i].Paper = "p" + string(rune('a'+r.IntN(26))) + string(rune('a'+r.IntN(20)))
		library[claims[i].Paper] = witness.Paper{Authors: []string{"Author" + claims[i].Paper}, Year: 1950 + r.IntN(70)}
	}
	b.Run("conflicts", func(b *testing.B) {
		for b.Loop() {
			Conflicts(claims, library, nil)
		}
	})
	b.Run("table", func(b *testing.B) {
		for b.Loop() {
			table.Of(taxonomy.Selection{Claims: claims}, library, nil)
		}
	})
	b.Run("select", func(b *testing.B) {
		for b.Loop() {
			if _, err := taxonomy.Select(claims, "V. aaensis", nil, true); err != nil {
				b.Fatal(err)
			}
		}
	})
}
