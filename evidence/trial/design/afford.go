package design

import (
	"fmt"
	"slices"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/spread"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/factorial"
)

// layout is a set of treatments with what each gets of dishes and eggs.
type layout struct {
	factors     []factor
	treatments  []factorial.Treatment
	design      trial.Design
	sets        int // how often the whole set of treatments is laid out, runs counted
	eggsPerDish int
	lots        [][]int // by set and treatment: index into the request's lots
}

// plots returns the combinations of chamber settings.
func (l layout) plots() [][]trial.Setting { return factorial.Plots(plain(l.factors), l.treatments) }

// option is a layout that the dishes and eggs carry, with what it gives up.
type option struct {
	layout
	gone []trial.LeftOut
}

// options lists the layouts to choose from: the full factorial of all factors
// with all levels when every lot carries it, and else, from the richest downwards,
// fractions and subsets of it and factorials of fewer levels and of fewer
// questions, dropped from the end of the list. Factors by hand are never
// dropped.
func (s *settled) options(factors []factor) ([]option, error) {
	var out []option
	var gone []trial.LeftOut
	for more := true; more; factors, gone, more = s.poorer(factors, gone) {
		if lay, ok := s.whole(factors); ok {
			out = append(out, option{lay, gone})
			if !lay.design.IncompleteBlocks {
				return out, nil
			}
		}
		if lay, ok := s.part(factors); ok {
			out = append(out, option{lay, gone})
		}
	}
	if len(out) == 0 {
		return nil, s.unaffordable(factors)
	}
	return out, nil
}

// poorer returns the factors with a level or, where each is down to two, a factor
// less, and what is gone with that; more is false where nothing can go. What it is
// given stays as it is.
func (s *settled) poorer(factors []factor, gone []trial.LeftOut) (fewer []factor, lost []trial.LeftOut, more bool) {
	fewer, lost = slices.Clone(factors), slices.Clone(gone)
	if i := lastIndex(fewer, func(f factor) bool { return !f.byHand && len(f.Levels) > 2 }); i >= 0 {
		return fewer, append(lost, thin(&fewer[i])), true
	}
	i := lastIndex(fewer, func(f factor) bool { return !f.byHand })
	if i < 0 || len(fewer) == 1 {
		return factors, gone, false
	}
	n := factorial.Count(plain(factors))
	why := fmt.Sprintf("with all its treatments %d dishes and %d eggs would be needed", s.fewestSets()*n, s.fewestSets()*n*s.leastEggsADish())
	lost = slices.DeleteFunc(lost, func(l trial.LeftOut) bool { return l.Factor == fewer[i].ID && l.Conflict == "" }) // a level of it is gone with the whole
	for _, id := range fewer[i].Conflicts {
		lost = append(lost, trial.LeftOut{Factor: fewer[i].ID, Conflict: id, Why: why})
	}
	return slices.Delete(fewer, i, i+1), lost, true
}

// mostCandidates is the most treatments among which a part is sought.
const mostCandidates = 600

// part returns the richest part of the factorial that is affordable: a regular
// fraction, the largest that fits, or else a D-optimal subset.
func (s *settled) part(factors []factor) (layout, bool) {
	fs := plain(factors)
	if factorial.Count(fs) > mostCandidates {
		return layout{}, false
	}
	for free := factorial.MostFree(fs); free >= 2; free-- {
		if ts, design, ok := factorial.Fraction(fs, free); ok {
			if lay := (layout{factors: factors, treatments: ts, design: design}); s.fill(&lay) {
				return lay, true
			}
		}
	}
	ts, ok := factorial.Optimal(fs, s.mostTreatments(), generator(s.Seed, streamOptimal))
	if !ok {
		return layout{}, false
	}
	lay := layout{factors: factors, treatments: ts, design: trial.Design{Kind: trial.Optimal, SplitPlot: factorial.Split(fs), Aliases: []string{}}}
	return lay, s.fill(&lay)
}

// thin takes one level from a factor: the bare one where no side stands there
// (untreated eggs are added beside the factorial anyway), else one to compare
// with, else the last of several words or a number from the middle.
func thin(f *factor) trial.LeftOut {
	none, _ := trial.Bare(f.ID)
	i := slices.IndexFunc(f.Levels, func(l trial.Setting) bool { return l == none && slices.Contains(f.spare, l) })
	if i < 0 {
		i = lastIndex(f.Levels, func(l trial.Setting) bool { return slices.Contains(f.spare, l) })
	}
	if i < 0 {
		i = lastIndex(f.Levels, func(l trial.Setting) bool { return l.Category != "" && l != none })
	}
	if i < 0 {
		i = len(f.Levels) / 2
	}
	lost := f.Levels[i]
	f.Levels = slices.Delete(slices.Clone(f.Levels), i, i+1)
	why := "its level %s is one too many for the dishes and eggs"
	if only, ok := trial.Untreated(f.ID); ok && lost == only {
		why = "its level %s is tried in the untreated eggs only, to save dishes"
	}
	return trial.LeftOut{Factor: f.ID, Why: fmt.Sprintf(why, lost.In(f.Unit))}
}

func lastIndex[T any](list []T, ok func(T) bool) int {
	for i := len(list) - 1; i >= 0; i-- {
		if ok(list[i]) {
			return i
		}
	}
	return -1
}

// whole returns the full factorial; ok is false where it is not affordable.
func (s *settled) whole(factors []factor) (lay layout, ok bool) {
	fs := plain(factors)
	if factorial.Count(fs) > s.Dishes {
		return layout{}, false
	}
	lay = layout{factors: factors, treatments: factorial.Full(fs),
		design: trial.Design{Kind: trial.FullFactorial, SplitPlot: factorial.Split(fs), Aliases: []string{}}}
	return lay, s.fill(&lay)
}

// mostTreatments is how many treatments can have the fewest dishes that a
// treatment needs.
func (s *settled) mostTreatments() int {
	n := s.Dishes / s.fewestSets()
	for n > 0 && s.setsAt(s.leastEggsADish(), n) < s.fewestSets() {
		n--
	}
	return n
}

func (s *settled) fewestSets() int { return max(fewestDishes, s.runs()) }

// runs is how often each combination of chamber settings is run.
func (s *settled) runs() int { return max(1, s.Runs) }

func (s *settled) leastEggsADish() int {
	if s.EggsPerDish > 0 {
		return s.EggsPerDish
	}
	return fewestEggsADish
}

// enough is the share of the most that a layout could tell at which ten eggs a
// dish are kept: more dishes are more work (a judgement, no source).
const enough = 0.7

// fill sets dishes and eggs, or reports that there are too few. Left to
// itself it takes ten eggs a dish, fewer when ten do not go round or smaller
// dishes would tell much more, and more when dishes rather than eggs are short.
func (s *settled) fill(l *layout) bool {
	first, last := s.dishSizes()
	n := len(l.treatments)
	most := 0.0
	for m := first; m >= last; m-- {
		most = max(most, s.tells(m, n))
	}
	for m := first; m >= last; m-- {
		if tells := s.tells(m, n); tells > 0 && tells >= enough*most {
			l.sets, l.eggsPerDish = s.setsAt(m, n), m
			break
		}
	}
	if l.sets == 0 {
		return s.fillInBlocks(l)
	}
	for s.EggsPerDish == 0 && l.eggsPerDish < mostEggsADish && s.setsAt(l.eggsPerDish+1, len(l.treatments)) >= l.sets {
		l.eggsPerDish++
	}
	for _, lot := range s.dealLots(l.sets, l.eggsPerDish*n) {
		l.lots = append(l.lots, slices.Repeat([]int{lot}, n))
	}
	return true
}

// tells is how much n treatments with m eggs a dish would tell, for comparison
// between sizes of dish: independent eggs a treatment, over the square of the
// t quantile by which a difference must stand out. 0 where they do not go round.
func (s *settled) tells(m, n int) float64 {
	sets := s.setsAt(m, n)
	df := n*(sets-1) - (len(s.Lots) - 1)
	if sets < s.fewestSets() || df < 1 {
		return 0
	}
	t := stat.StudentQuantile(0.975, float64(df))
	return float64(sets*m) / spread.DesignEffect(m, s.rho) / (t * t)
}

// setsAt returns how often a set of n treatments with m eggs a dish can be laid
// out: a set takes its eggs from one lot or clutch, and every chamber run gets as many.
func (s *settled) setsAt(m, n int) int {
	byEggs := 0
	for _, have := range s.eggsOfLots() {
		byEggs += have / (m * n)
	}
	sets := min(byEggs, s.Dishes/n)
	return sets - sets%s.runs()
}

// eggsOfLots shares the eggs that may be used out over the lots by their size.
func (s *settled) eggsOfLots() []int {
	sum, use := 0, s.Eggs-s.kept
	for _, l := range s.Lots {
		sum += l.Eggs
	}
	out := make([]int, len(s.Lots))
	for i, l := range s.Lots {
		out[i] = l.Eggs * use / sum
	}
	return out
}

// dealLots gives each set a lot, always the one with most eggs left.
func (s *settled) dealLots(sets, eggs int) []int {
	left := s.eggsOfLots()
	out := make([]int, sets)
	for i := range out {
		best := 0
		for j := range left {
			if left[j] > left[best] {
				best = j
			}
		}
		out[i] = best
		left[best] -= eggs
	}
	return out
}
