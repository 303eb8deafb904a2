// Package placing gives the chamber runs of a trial their chambers and batches:
// runs that stand at the same time have chambers of their own, and a temperature
// that is run again goes to another chamber where there is one.
//
// It supposes that some chamber holds each temperature; a plan refuses the others
// before.
package placing

import (
	"cmp"
	"fmt"
	"slices"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/scheme"
)

// Run is a chamber run with its place in the layout.
type Run struct {
	trial.Run
	Plot   int // combination of whole-plot settings
	Repeat int // which run of that combination, from 0
}

// Runs gives every run a chamber and a batch. Runs that stand at the same time
// have chambers of their own, and a temperature that is run again goes to
// another chamber where there is one, so that chamber and temperature come
// apart. The plots, given by their temperatures, are run so many times each, in
// the order that order draws. Without chambers there is one for each temperature
// and repeat.
func Runs(temperatures []float64, repeats int, chambers []trial.Chamber, order func(n int) []int) []Run {
	var runs []Run
	for repeat := range repeats {
		for _, p := range order(len(temperatures)) {
			runs = append(runs, Run{Run: trial.Run{Temperature: temperatures[p]}, Plot: p, Repeat: repeat})
		}
	}
	if len(chambers) == 0 {
		chambers = chambersFor(runs, repeats)
	}
	if interchange(runs, repeats, chambers) {
		placeBySquare(runs, chambers)
	} else {
		used := map[string]bool{}
		for batch, left := 1, runs; len(left) > 0; batch++ {
			left = fillBatch(left, chambers, batch, used)
		}
	}
	slices.SortStableFunc(runs, func(a, b Run) int { return a.Batch - b.Batch })
	for i := range runs {
		runs[i].Run.Run = i + 1
	}
	return runs
}

// interchange reports whether there are as many chambers as runs of one repeat,
// each run at a temperature of its own that every chamber holds.
func interchange(runs []Run, repeats int, chambers []trial.Chamber) bool {
	n := len(chambers)
	if repeats < 2 || repeats > n || n*repeats != len(runs) {
		return false
	}
	temperatures := map[float64]bool{}
	for _, r := range runs {
		temperatures[r.Temperature] = true
		if slices.ContainsFunc(chambers, func(c trial.Chamber) bool { return !c.Holds(r.Temperature) }) {
			return false
		}
	}
	return len(temperatures) == n
}

// placeBySquare gives each repeat a batch, and in each batch every temperature
// another chamber than before, by a Latin square: what differs between chambers
// or between batches falls on all temperatures alike.
func placeBySquare(runs []Run, chambers []trial.Chamber) {
	n := len(chambers)
	square := scheme.Square(n)
	number := map[int]int{} // of a plot in the square: its place in the draw of the first repeat
	for k, r := range runs[:n] {
		number[r.Plot] = k
	}
	for k := range runs {
		r := &runs[k]
		at := slices.IndexFunc(square, func(row []int) bool { return row[r.Repeat] == number[r.Plot] })
		r.Batch, r.Chamber = r.Repeat+1, chambers[at].Title(at)
	}
}

// chambersFor imagines the chambers that the runs need, one per temperature and
// repeat.
func chambersFor(runs []Run, repeats int) []trial.Chamber {
	var out []trial.Chamber
	for _, r := range runs {
		c := trial.Chamber{Name: "chamber at " + trial.Num(r.Temperature).In("degC"), Low: r.Temperature, High: r.Temperature}
		if repeats > 1 {
			c.Name = fmt.Sprintf("chamber %d at %s", r.Repeat+1, trial.Num(r.Temperature).In("degC"))
		}
		if !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return out
}

// fillBatch places the runs that fit at one time and returns the others. It
// always places at least one, since unholdable temperatures were refused.
func fillBatch(runs []Run, chambers []trial.Chamber, batch int, used map[string]bool) (later []Run) {
	b := berths{chambers: chambers, used: used, holder: make([]int, len(chambers))}
	placed := make([]bool, len(runs))
	for k, r := range runs {
		g := group{r.Repeat, r.Temperature}
		if !slices.Contains(b.groups, g) {
			b.groups = append(b.groups, g)
			b.take(len(b.groups)-1, make([]bool, len(chambers)))
		}
		placed[k] = b.chamberOf(g) >= 0
	}
	return settleBatch(runs, placed, batch, func(k int) int { return b.chamberOf(group{runs[k].Repeat, runs[k].Temperature}) }, chambers, used)
}

// group is the runs that share a chamber: those of one repeat at one
// temperature.
type group struct {
	repeat      int
	temperature float64
}

// berths gives groups of runs chambers of their own, as many as can have one
// (augmenting paths of a bipartite matching).
type berths struct {
	chambers []trial.Chamber
	used     map[string]bool // chamber and temperature of earlier batches
	groups   []group
	holder   []int // by chamber: index of its group and 1; 0 is free
}

func (b *berths) chamberOf(g group) int {
	return slices.Index(b.holder, slices.Index(b.groups, g)+1)
}

// take finds group i a chamber, moving others where that makes room.
func (b *berths) take(i int, seen []bool) bool {
	for _, c := range preferred(b.chambers, b.groups[i].temperature, b.used) {
		if seen[c] {
			continue
		}
		seen[c] = true
		if b.holder[c] == 0 || b.take(b.holder[c]-1, seen) {
			b.holder[c] = i + 1
			return true
		}
	}
	return false
}

// settleBatch writes chamber and batch into the placed runs, moving the others
// to the end, which it returns.
func settleBatch(runs []Run, placed []bool, batch int, chamber func(int) int, chambers []trial.Chamber, used map[string]bool) []Run {
	var now, later []Run
	for k, r := range runs {
		if !placed[k] {
			later = append(later, r)
			continue
		}
		c := chamber(k)
		r.Batch, r.Chamber = batch, chambers[c].Title(c)
		used[usedKey(c, r.Temperature)] = true
		now = append(now, r)
	}
	copy(runs, append(now, later...))
	return runs[len(now):]
}

func usedKey(chamber int, t float64) string { return fmt.Sprintf("%d at %v", chamber, t) }

// preferred lists the chambers that hold t, those that have not held it yet
// first, and among them those with the narrowest range.
func preferred(cs []trial.Chamber, t float64, used map[string]bool) []int {
	var out []int
	for i, c := range cs {
		if c.Holds(t) {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int {
		ua, ub := used[usedKey(a, t)], used[usedKey(b, t)]
		switch {
		case ua != ub && ua:
			return 1
		case ua != ub:
			return -1
		}
		return cmp.Compare(cs[a].High-cs[a].Low, cs[b].High-cs[b].Low)
	})
	return out
}
