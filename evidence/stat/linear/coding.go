package linear

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
)

// Numbers reads the words of a column as numbers; the error names the first that
// is none.
func Numbers(words []string) ([]float64, error) {
	out := make([]float64, len(words))
	for i, w := range words {
		v, err := strconv.ParseFloat(w, 64)
		if err != nil {
			return nil, fmt.Errorf("%q is no number", w)
		}
		out[i] = v
	}
	return out, nil
}

// Levels returns the different words of a column in sorted order: by size when
// all are numbers, else by letter.
func Levels(column []string) []string {
	out := slices.Clone(column)
	if _, err := Numbers(out); err == nil {
		slices.SortFunc(out, func(a, b string) int {
			x, _ := strconv.ParseFloat(a, 64)
			y, _ := strconv.ParseFloat(b, 64)
			return cmp.Or(cmp.Compare(x, y), cmp.Compare(a, b))
		})
	} else {
		slices.Sort(out)
	}
	return slices.Compact(out)
}

// Indicators returns one column per different word of a factor's column, and
// per combination where several columns are given.
func Indicators(columns ...[]string) [][]float64 {
	if len(columns) == 0 {
		return nil
	}
	n := len(columns[0])
	key := make([]string, n)
	for i := range n {
		for _, c := range columns {
			key[i] += c[i] + "\x00"
		}
	}
	var out [][]float64
	for _, l := range Levels(key) {
		c := make([]float64, n)
		for i := range key {
			if key[i] == l {
				c[i] = 1
			}
		}
		out = append(out, c)
	}
	return out
}
