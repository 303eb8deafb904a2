package linear

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
)

// In balanced incomplete blocks each pair of treatments meets equally often (Yates
// 1936, Annals of Eugenics 7:121); the smallest ones are known to exist: three and
// four treatments in all their pairs, seven in seven blocks of three.
func TestDealBlocksBalances(t *testing.T) {
	for _, tt := range []struct{ treatments, size, blocks, together int }{{3, 2, 3, 1}, {3, 2, 6, 2}, {4, 2, 6, 1}, {4, 3, 4, 2}, {7, 3, 7, 1}} {
		var rows [][]float64
		var names []int
		for k := range tt.size * tt.blocks {
			row := make([]float64, tt.treatments-1)
			if name := k % tt.treatments; name > 0 {
				row[name-1] = 1
			}
			rows, names = append(rows, row), append(names, k%tt.treatments)
		}
		sizes := slices.Repeat([]int{tt.size}, tt.blocks)
		block, err := DealBlocks(rows, sizes, 20, rand.New(rand.NewPCG(1, 2)))
		if err != nil {
			t.Fatal(err)
		}
		met := map[string]int{}
		for i := range rows {
			for j := range i {
				if block[i] == block[j] {
					met[fmt.Sprint(min(names[i], names[j]), max(names[i], names[j]))]++
				}
			}
		}
		for pair, n := range met {
			if n != tt.together {
				t.Errorf("%+v: the pair %s meets %d times", tt, pair, n)
			}
		}
		if want := tt.treatments * (tt.treatments - 1) / 2; len(met) != want {
			t.Errorf("%+v: %d pairs meet, want %d", tt, len(met), want)
		}
	}
}

// Where a block holds two dishes of a factorial, each is the other's opposite:
// then both tell every factor (Yates 1937, on confounding).
func TestDealBlocksOpposites(t *testing.T) {
	var rows [][]float64
	for _, r := range factorialRows(2, 2, 2) {
		rows = append(rows, r[1:])
	}
	block, err := DealBlocks(rows, []int{2, 2, 2, 2}, 10, rand.New(rand.NewPCG(3, 4)))
	if err != nil {
		t.Fatal(err)
	}
	for i := range rows {
		for j := range i {
			if block[i] == block[j] && Dot(rows[i], rows[j]) != -3 {
				t.Errorf("%v and %v share a block", rows[i], rows[j])
			}
		}
	}
	if _, err := DealBlocks(rows, slices.Repeat([]int{1}, 8), 5, rand.New(rand.NewPCG(3, 4))); err == nil {
		t.Error("blocks of one dish tell factors apart")
	}
	if _, err := DealBlocks(rows, []int{2, 2}, 5, rand.New(rand.NewPCG(3, 4))); err == nil {
		t.Error("eight dishes fill blocks for four")
	}
}
