package design

import (
	"slices"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
	"hatchlore/evidence/stat/spread"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/factorial"
)

// fewestInBlock is the fewest dishes that a lot or clutch must fill to tell
// anything: what differs between lots is taken out, and of one dish nothing is left.
const fewestInBlock = 2

const blockStarts = 4

// fillInBlocks lays the treatments out where no lot or clutch is large enough for
// each of them once: every lot holds some, dealt so that the levels of each factor
// meet within lots as often as they can (incomplete blocks). It reports whether the
// lots carry that. A temperature of chambers is not tried so: the lots would not
// be the same in all chambers.
func (s *settled) fillInBlocks(l *layout) bool {
	if len(s.Lots) < 2 || factorial.Split(plain(l.factors)) {
		return false
	}
	n := len(l.treatments)
	most := 0.0
	var sizes []int
	first, last := s.dishSizes()
	for m := first; m >= last; m-- {
		sets, lots := s.setsInBlocks(m, n)
		if tells := s.tellsInBlocks(m, n, sets, lots); tells > most {
			most, sizes = tells, lots
			l.sets, l.eggsPerDish = sets, m
		}
	}
	if most == 0 {
		return false
	}
	block, err := linear.DealBlocks(withinBlocks(l, l.sets), sizes, blockStarts, generator(s.Seed, streamBlocks))
	if err != nil {
		l.sets, l.eggsPerDish = 0, 0
		return false
	}
	l.design.IncompleteBlocks = true
	for set := range l.sets {
		l.lots = append(l.lots, block[set*n:(set+1)*n])
	}
	return true
}

// dishSizes returns the most and the fewest eggs a dish may have.
func (s *settled) dishSizes() (first, last int) {
	if s.EggsPerDish > 0 {
		return s.EggsPerDish, s.EggsPerDish
	}
	return defaultEggsADish, fewestEggsADish
}

// setsInBlocks returns how often a set of n treatments with m eggs a dish can be
// laid out when it may be spread over lots, and the dishes of each lot; sets is 0
// where that is less than twice.
func (s *settled) setsInBlocks(m, n int) (sets int, lots []int) {
	sum := 0
	for _, eggs := range s.eggsOfLots() {
		k := eggs / m
		if k < fewestInBlock {
			k = 0
		}
		lots, sum = append(lots, k), sum+k
	}
	for sets = min(sum, s.Dishes) / n; sets >= s.fewestSets(); sets-- {
		if sets%s.runs() == 0 && shrink(lots, sum-sets*n) {
			return sets, lots
		}
	}
	return 0, nil
}

// shrink takes so many dishes from the lots, always from the largest, but leaves
// no lot with a single one; false where that cannot be.
func shrink(lots []int, less int) bool {
	now := slices.Clone(lots)
	for less > 0 {
		i := slices.Index(now, slices.Max(now))
		switch {
		case now[i] > fewestInBlock:
			now[i]--
			less--
		case less >= fewestInBlock:
			now[i] -= fewestInBlock
			less -= fewestInBlock
		default:
			return false
		}
	}
	copy(lots, now)
	return true
}

// tellsInBlocks is how much a layout in incomplete blocks would tell, as [tells],
// with what the blocks take away: a share of 1/k of what k dishes of a block could
// tell, against 1/n in a whole set.
func (s *settled) tellsInBlocks(m, n, sets int, lots []int) float64 {
	used := 0
	for _, k := range lots {
		if k > 0 {
			used++
		}
	}
	df := n*sets - n - (used - 1)
	if sets == 0 || df < 1 {
		return 0
	}
	t := stat.StudentQuantile(0.975, float64(df))
	left := 1 - float64(used)/float64(n*sets) // of the mean lot's k dishes, 1-1/k
	return float64(sets*m) / spread.DesignEffect(m, s.rho) / (t * t) * left
}

// withinBlocks codes the dishes of all sets for a model of the factors' own
// effects without a constant, which is the blocks'.
func withinBlocks(l *layout, sets int) [][]float64 {
	factors := plain(l.factors)
	control := slices.ContainsFunc(l.treatments, func(t factorial.Treatment) bool { return t.Control })
	var rows [][]float64
	for range sets {
		for _, t := range l.treatments {
			row := trial.EffectRow(factors, t.Settings, t.Control)[1:]
			if control {
				row = append(row, 0)
				if t.Control {
					row[len(row)-1] = 1
				}
			}
			rows = append(rows, row)
		}
	}
	return rows
}
