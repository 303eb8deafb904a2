package linear

import (
	"math/rand/v2"
	"testing"

	"hatchlore/evidence/stat/stattest"
)

func factorialRows(levels ...int) [][]float64 {
	rows := [][]float64{{1}}
	for _, n := range levels {
		var next [][]float64
		for _, r := range rows {
			for l := range n {
				row := append([]float64(nil), r...)
				for k := 1; k < n; k++ {
					v := 0.0
					if l == k {
						v = 1
					} else if n == 2 {
						v = -1
					}
					row = append(row, v)
				}
				next = append(next, row)
			}
		}
		rows = next
	}
	return rows
}

// A half fraction is D-optimal for main effects: X'X is 8 times the identity, so
// the determinant is 8 to the number of columns.
func TestDOptimalFindsFraction(t *testing.T) {
	rows := factorialRows(2, 2, 2, 2)
	in, err := DOptimal(rows, 8, 1, 20, rand.New(rand.NewPCG(1, 1)))
	if err != nil {
		t.Fatal(err)
	}
	space := make([][]float64, 5)
	for _, i := range in {
		for j, v := range rows[i] {
			space[j] = append(space[j], v)
		}
	}
	for a := range space {
		for b := range a {
			stattest.Near(t, "columns", Dot(space[a], space[b]), 0, 1e-12)
		}
	}
	if in[0] != 0 {
		t.Errorf("the kept row is missing from %v", in)
	}
}

func TestDOptimalBeatsRandom(t *testing.T) {
	rows := factorialRows(3, 3, 2, 2)
	r := rand.New(rand.NewPCG(2, 2))
	det := func(in []int) float64 { return exchange(rows, in, len(in)) }
	in, err := DOptimal(rows, 10, 1, 10, r)
	if err != nil {
		t.Fatal(err)
	}
	best := det(in)
	for range 200 {
		if d := det(randomSubset(len(rows), 10, 1, r)); d > best+1e-9 {
			t.Fatalf("a random choice has log determinant %v, the optimal one %v", d, best)
		}
	}
	if _, err := DOptimal(rows, 3, 0, 5, r); err == nil {
		t.Error("three treatments tell seven columns apart")
	}
}

// In a balanced layout the least-squares weights are plain differences of means.
func TestContrastWeights(t *testing.T) {
	ones, x, z := []float64{1, 1, 1, 1}, []float64{0, 0, 1, 1}, []float64{0, 1, 0, 1}
	w, err := ContrastWeights([][]float64{ones, x, z}, []float64{0, 1, 0})
	if err != nil {
		t.Fatal(err)
	}
	stattest.NearAll(t, "weights", w, []float64{-0.5, -0.5, 0.5, 0.5}, 1e-12)
	if _, err := ContrastWeights([][]float64{ones, x, x}, []float64{0, 1, 0}); err == nil {
		t.Error("twin columns pass")
	}
	if _, err := ContrastWeights([][]float64{{1}, {2}}, []float64{0, 1}); err == nil {
		t.Error("one dish carries two coefficients")
	}
}
