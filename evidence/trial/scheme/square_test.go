package scheme

import (
	"slices"
	"testing"
)

// latin reports whether no row or column of the rows has a number twice.
func latin(rows [][]int) bool {
	for i, row := range rows {
		for k, v := range row {
			if slices.Contains(row[:k], v) {
				return false
			}
			for _, above := range rows[:i] {
				if above[k] == v {
					return false
				}
			}
		}
	}
	return true
}

// Fisher and Yates, Statistical Tables: 1, 1, 4 and 56 reduced squares of order
// 2 to 5, and so 2, 12, 576 and 161280 in all (n!(n-1)! to each). They show
// that the check below knows a Latin square.
func TestCountOfSquares(t *testing.T) {
	for n, want := range map[int][2]int{2: {1, 2}, 3: {1, 12}, 4: {4, 576}, 5: {56, 161280}} {
		first := make([]int, n)
		for k := range first {
			first[k] = k
		}
		reduced := countReduced([][]int{first}, n)
		all := reduced
		for k := 2; k <= n; k++ {
			all *= k * (k - 1)
		}
		if reduced != want[0] || all != want[1] {
			t.Errorf("order %d: %d reduced squares, %d in all, want %v", n, reduced, all, want)
		}
	}
}

// countReduced counts the ways to go on with rows that begin with their own
// number.
func countReduced(rows [][]int, n int) int {
	if len(rows) == n {
		return 1
	}
	found := 0
	var extend func(row []int)
	extend = func(row []int) {
		if !latin(append(slices.Clone(rows), row)) {
			return
		}
		if len(row) == n {
			found += countReduced(append(slices.Clone(rows), slices.Clone(row)), n)
			return
		}
		for v := range n {
			extend(append(slices.Clone(row), v))
		}
	}
	extend([]int{len(rows)})
	return found
}

func TestSquare(t *testing.T) {
	for n := 1; n <= 12; n++ {
		square := Square(n)
		if !latin(square) || len(square) != n {
			t.Errorf("order %d is no Latin square: %v", n, square)
		}
		pairs := map[[2]int]int{}
		for _, row := range square {
			for k := 1; k < n; k++ {
				pairs[[2]int{row[k-1], row[k]}]++
			}
		}
		if n%2 == 0 && len(pairs) != n*(n-1) {
			t.Errorf("order %d: %d of %d neighbours", n, len(pairs), n*(n-1))
		}
	}
	// Williams 1949, order 4: rows 1243, 2314, 3421, 4132.
	want := [][]int{{0, 1, 3, 2}, {1, 2, 0, 3}, {2, 3, 1, 0}, {3, 0, 2, 1}}
	if got := Square(4); !slices.EqualFunc(got, want, slices.Equal[[]int]) {
		t.Errorf("order 4: %v, want %v", got, want)
	}
	// The cyclic square.
	if got := Square(3); !slices.EqualFunc(got, [][]int{{0, 1, 2}, {1, 2, 0}, {2, 0, 1}}, slices.Equal[[]int]) {
		t.Errorf("order 3: %v", got)
	}
}
