package pooling

import (
	"math/rand/v2"
	"testing"

	"hatchlore/evidence/stat"
)

// What the normal intervals are worth with few sources that differ: eggs 20 to 60,
// logits that differ with a standard deviation of 0.8, which is a spread as papers on
// one species show. The interval by Knapp and Hartung keeps its level.
func TestCoverageWithFewSources(t *testing.T) {
	const trials, middle, between = 4000, 0.4, 0.8
	r := rand.New(rand.NewPCG(9, 1))
	for _, tt := range []struct {
		sources               int
		normal, next, student [2]float64
	}{
		{2, [2]float64{0.76, 0.82}, [2]float64{0.67, 0.74}, [2]float64{0.93, 0.97}},
		{3, [2]float64{0.82, 0.89}, [2]float64{0.74, 0.81}, [2]float64{0.93, 0.97}},
		{5, [2]float64{0.84, 0.91}, [2]float64{0.78, 0.86}, [2]float64{0.93, 0.97}},
		{10, [2]float64{0.88, 0.94}, [2]float64{0.83, 0.91}, [2]float64{0.93, 0.97}},
	} {
		var normal, next, student int
		for range trials {
			f := sources(tt.sources, middle, between, r)
			p := pool(t, DerSimonianLaird, f)
			_, byT := p.KnappHartung(f, 0.95)
			for count, holds := range map[*int]bool{&normal: p.Interval(0.95).Contains(middle), &student: byT.Contains(middle),
				&next: p.Prediction(0.95).Contains(middle + between*r.NormFloat64())} {
				if holds {
					*count++
				}
			}
		}
		for _, x := range []struct {
			name  string
			holds int
			want  [2]float64
		}{{"normal", normal, tt.normal}, {"the next source", next, tt.next}, {"Knapp-Hartung", student, tt.student}} {
			share := float64(x.holds) / trials
			t.Logf("%d sources, %s: %.3f", tt.sources, x.name, share)
			if share < x.want[0] || share > x.want[1] {
				t.Errorf("%d sources: %s holds the truth in %.3f, want %v", tt.sources, x.name, share, x.want)
			}
		}
	}
}

// sources draws the counts of sources that differ.
func sources(n int, middle, between float64, r *rand.Rand) (f []Finding) {
	for range n {
		c, own := stat.Count{Eggs: 20 + r.IntN(41)}, stat.Expit(middle+between*r.NormFloat64())
		for range c.Eggs {
			if r.Float64() < own {
				c.Hatched++
			}
		}
		f = append(f, LogitFinding(c))
	}
	return f
}
