// Package stattest compares numbers in the tests of the statistics, and holds the
// counts that several of them use. Nothing but tests imports it.
package stattest

import (
	"encoding/csv"
	"math"
	"os"
	"testing"

	"hatchlore/evidence/stat"
)

// Near fails unless got is within tol of want; relative tolerances are given by
// the caller as tol times want.
func Near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s: got %.10g, want %.10g within %.1g", what, got, want, tol)
	}
}

// NearInterval compares both limits.
func NearInterval(t testing.TB, what string, got stat.Interval, low, high, tol float64) {
	t.Helper()
	Near(t, what+" low", got.Low, low, tol)
	Near(t, what+" high", got.High, high, tol)
}

// NearAll compares value by value.
func NearAll(t testing.TB, what string, got, want []float64, tol float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s: got %d values, want %d", what, len(got), len(want))
		return
	}
	for i := range got {
		Near(t, what, got[i], want[i], tol)
	}
}

// ReadTable returns the rows of a file in testdata below its header.
func ReadTable(t testing.TB, name string) [][]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return all[1:]
}

// Counts makes counts of pairs of hatched and eggs.
func Counts(pairs ...int) []stat.Count {
	var out []stat.Count
	for i := 0; i < len(pairs); i += 2 {
		out = append(out, stat.Count{Hatched: pairs[i], Eggs: pairs[i+1]})
	}
	return out
}

// Plates are the counts of Table 3 of Crowder 1978, Applied Statistics 27:34-37:
// 21 plates of two seeds and two extracts, the groups of [PlateGroups] one after
// the other.
func Plates() []stat.Count {
	return Counts(
		10, 39, 23, 62, 23, 81, 26, 51, 17, 39,
		5, 6, 53, 74, 55, 72, 32, 51, 46, 79, 10, 13,
		8, 16, 10, 30, 8, 28, 23, 45, 0, 4,
		3, 12, 22, 41, 15, 30, 32, 51, 3, 7,
	)
}

// PlateGroups returns the plates of each combination of seed and extract: (0, 0),
// (0, 1), (1, 0), (1, 1).
func PlateGroups() [][]stat.Count {
	p := Plates()
	return [][]stat.Count{p[:5], p[5:11], p[11:16], p[16:]}
}
