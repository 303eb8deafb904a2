package linear

import (
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
)

// DealBlocks deals rows into blocks of the given sizes so that what the rows tell
// of their columns within blocks, by the determinant of the information, is as
// large as swapping pairs of rows can make it, the best of several random starts.
// The rows have no constant column: that is the blocks'. It returns the block of
// each row, or an error when no dealing tells all columns apart.
func DealBlocks(rows [][]float64, sizes []int, starts int, r *rand.Rand) ([]int, error) {
	sum := 0
	for _, n := range sizes {
		sum += n
	}
	if len(rows) == 0 || sum != len(rows) {
		return nil, fmt.Errorf("%d dishes do not fill blocks for %d", len(rows), sum)
	}
	var best *blocked
	for range starts {
		b := newBlocked(rows, sizes, r)
		b.swapAll()
		if best == nil || b.logDet > best.logDet+1e-9 {
			best = b
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(best.info) || chol.Cond() > 1e8 {
		return nil, fmt.Errorf("no dealing of %d dishes into %d blocks tells the factors apart", len(rows), len(sizes))
	}
	return best.block, nil
}

// blocked is rows dealt into blocks.
type blocked struct {
	rows   [][]float64
	sizes  []int
	block  []int         // of each row
	sums   [][]float64   // of the rows of each block
	info   *mat.SymDense // on the columns, within blocks
	logDet float64
}

func newBlocked(rows [][]float64, sizes []int, r *rand.Rand) *blocked {
	k := len(rows[0])
	b := &blocked{rows: rows, sizes: sizes, block: make([]int, len(rows)), info: mat.NewSymDense(k, nil)}
	order := randomSubset(len(rows), len(rows), 0, r)
	at := 0
	for i, n := range sizes {
		b.sums = append(b.sums, make([]float64, k))
		for range n {
			row := order[at]
			b.block[row] = i
			for j, v := range rows[row] {
				b.sums[i][j] += v
			}
			at++
		}
	}
	for _, row := range rows {
		b.info.SymRankOne(b.info, 1, mat.NewVecDense(k, row))
	}
	for i := range sizes {
		b.takeOut(b.info, i, b.sums[i], 1)
	}
	b.logDet = ridgedLogDet(b.info)
	return b
}

// takeOut subtracts from info what the mean of a block with the sum takes away,
// or adds it where sign is -1.
func (b *blocked) takeOut(info *mat.SymDense, block int, sum []float64, sign float64) {
	if n := b.sizes[block]; n > 0 {
		info.SymRankOne(info, -sign/float64(n), mat.NewVecDense(len(sum), sum))
	}
}

// mostPasses bounds the search; it ends far sooner.
const mostPasses = 50

// swapAll swaps pairs of rows of different blocks as long as that gains.
func (b *blocked) swapAll() {
	for range mostPasses {
		gained := false
		for i := range b.rows {
			for j := range i {
				gained = b.swap(i, j) || gained
			}
		}
		if !gained {
			return
		}
	}
}

// swap exchanges the blocks of two rows where that gains.
func (b *blocked) swap(i, j int) bool {
	p, q := b.block[i], b.block[j]
	if p == q {
		return false
	}
	np, nq := make([]float64, len(b.sums[p])), make([]float64, len(b.sums[q]))
	for k := range np {
		d := b.rows[j][k] - b.rows[i][k]
		np[k], nq[k] = b.sums[p][k]+d, b.sums[q][k]-d
	}
	info := cloneOf(b.info)
	b.takeOut(info, p, b.sums[p], -1)
	b.takeOut(info, q, b.sums[q], -1)
	b.takeOut(info, p, np, 1)
	b.takeOut(info, q, nq, 1)
	logDet := ridgedLogDet(info)
	if logDet <= b.logDet+1e-9 {
		return false
	}
	b.block[i], b.block[j], b.sums[p], b.sums[q], b.info, b.logDet = q, p, np, nq, info, logDet
	return true
}

// ridgedLogDet is the log determinant of information with a ridge far below any
// true one, so that a poor start can be told from a worse.
func ridgedLogDet(info *mat.SymDense) float64 {
	const ridge = 1e-7
	own := cloneOf(info)
	for j := range info.SymmetricDim() {
		own.SetSym(j, j, own.At(j, j)+ridge)
	}
	var chol mat.Cholesky
	if !chol.Factorize(own) {
		return math.Inf(-1)
	}
	return chol.LogDet()
}

func cloneOf(a *mat.SymDense) *mat.SymDense {
	out := mat.NewSymDense(a.SymmetricDim(), nil)
	out.CopySym(a)
	return out
}
