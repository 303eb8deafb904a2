package query

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/ingest"
)

// The size for which answers are promised: a large library, 20 papers of 10
// pages on each of 10 genera, each on 30 species.
const (
	bigClaims  = 10_000
	bigSpecies = 300
	bigPapers  = 200
	bigPages   = 10
	promised   = 200 * time.Millisecond
)

// bigLibrary is an Engine over invented papers of that size.
func bigLibrary(tb testing.TB) *Engine {
	tb.Helper()
	s, err := store.Open(tb.TempDir())
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() {
		if err := s.Close(); err != nil {
			tb.Error(err)
		}
	})
	rnd := rand.New(rand.NewPCG(5, 5))
	release, err := s.Hold(context.Background(), "test")
	if err != nil {
		tb.Fatal(err)
	}
	defer release()
	measures := evidence.Measures()
	for n := range bigPapers {
		p := store.Paper{
			Key: fmt.Sprintf("alder%d", 1800+n), Hash: fmt.Sprintf("hash%d", n), Source: fmt.Sprintf("%d.txt", n), Format: "txt",
			Authors: []string{fmt.Sprintf("Alder%c, Jo", 'a'+n%26)}, Year: 1800 + n,
		}
		for i := range bigPages {
			text := strings.Repeat("Eggs of the shrimp were collected from the upper hollow of North Fen and kept moist in peat (Alder 1960). ", 30)
			p.Pages = append(p.Pages, ingest.Page{Number: i + 1, How: ingest.ByText, Text: text})
		}
		var claims []evidence.Claim
		for i := range bigClaims / bigPapers {
			claims = append(claims, bigClaim(rnd, p, n, i, measures))
		}
		if _, err := s.Put(context.Background(), p, claims); err != nil {
			tb.Fatal(err)
		}
	}
	return New(s, nil)
}

func bigClaim(rnd *rand.Rand, p store.Paper, paper, i int, measures []evidence.Measure) evidence.Claim {
	m := measures[rnd.IntN(len(measures))]
	genus, sp := paper%10, rnd.IntN(bigSpecies/10)
	c := evidence.Claim{
		Page: 1 + i%bigPages, Start: i, End: i + 4, Quote: p.Pages[0].Text[i : i+4], Factor: m.Factor, Score: 0.9,
		Taxon:   fmt.Sprintf("Ficta%c species%c%c", 'a'+genus, 'a'+sp/26, 'a'+sp%26),
		Bearing: []evidence.Bearing{evidence.Favours, evidence.Prevents, evidence.Indifferent}[rnd.IntN(3)],
	}
	if len(m.Units) > 0 {
		c.Unit, c.Low = m.Units[0], num(float64(rnd.IntN(90)))
		c.High, c.Printed = num(*c.Low+float64(rnd.IntN(5))), "as printed"
	} else {
		c.Category = m.Categories[rnd.IntN(len(m.Categories))]
	}
	if c.Secondhand = rnd.IntN(4) == 0; c.Secondhand {
		c.Cited = fmt.Sprintf("Alder%c %d", 'a'+rnd.IntN(26), 1800+rnd.IntN(bigPapers))
	}
	c.ID = c.MakeID(fmt.Sprint(p.Hash, i))
	return c
}

// bigQuestions are what is asked of the big library.
func bigQuestions(e *Engine) map[string]func() error {
	ctx := context.Background()
	return map[string]func() error{
		"evidence of a species":  func() error { _, err := e.Evidence(ctx, "Fictaa speciesac", false, nil); return err },
		"conflicts of a species": func() error { _, err := e.Conflicts(ctx, "Fictaa speciesac"); return err },
		"evidence of a genus":    func() error { _, err := e.Evidence(ctx, "Fictab", false, nil); return err },
		"conflicts of a genus":   func() error { _, err := e.Conflicts(ctx, "Fictab"); return err },
		"names":                  func() error { _, err := e.Species(ctx); return err },
	}
}

// BenchmarkBigLibrary fails where an answer takes longer than promised.
func BenchmarkBigLibrary(b *testing.B) {
	e := bigLibrary(b)
	for name, ask := range bigQuestions(e) {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if err := ask(); err != nil {
					b.Fatal(err)
				}
			}
			if each := b.Elapsed() / time.Duration(b.N); each > promised {
				b.Errorf("%v, more than the %v promised", each, promised)
			}
		})
	}
}
