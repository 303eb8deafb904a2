package scheme

// Square returns a Latin square of order n: every number from 0 to n-1 stands
// once in each row and column. Of even order it is Williams' (1949, Australian
// Journal of Scientific Research A 2:149): each number comes right after each
// other one exactly once over the rows, so that what a chamber held before
// weighs on all temperatures alike. Of odd order no single square can do so, and
// it is the cyclic one.
func Square(n int) [][]int {
	first := make([]int, n)
	for k := range first {
		first[k] = k
		if n%2 == 0 { // 0, 1, n-1, 2, n-2, …
			first[k] = (k + 1) / 2
			if k > 0 && k%2 == 0 {
				first[k] = n - k/2
			}
		}
	}
	out := make([][]int, n)
	for i := range out {
		for _, v := range first {
			out[i] = append(out[i], (v+i)%n)
		}
	}
	return out
}
