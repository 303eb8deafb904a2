package line

// Commonest returns the key with the highest count, the smallest of several, 0 for
// an empty map.
func Commonest(counts map[int]int) int {
	best, n := 0, 0
	for k, c := range counts {
		if c > n || c == n && k < best {
			best, n = k, c
		}
	}
	return best
}

// Near reports whether a is within the given share of b.
func Near(a, b, share float64) bool { return a >= b*(1-share) && a <= b*(1+share) }
