package trial

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/stat/linear"
)

// RunSettings returns the setting of a factor in the given runs (indices into
// Runs): that of any dish of the run, for a factor set for whole runs.
func (p *Plan) RunSettings(runs []int, id evidence.Factor) []Setting {
	var out []Setting
	for _, k := range runs {
		i := slices.IndexFunc(p.Dishes, func(d Dish) bool { return d.Run == k+1 })
		out = append(out, p.Dishes[i].Levels[id])
	}
	return out
}

// PlotKeys names the combination of whole-plot settings of each of the given
// runs: runs with the same key repeat each other.
func (p *Plan) PlotKeys(runs []int) []string {
	out := make([]string, len(runs))
	for _, f := range p.Factors {
		if f.WholePlot {
			for i, l := range p.RunSettings(runs, f.ID) {
				out[i] += l.String() + ";"
			}
		}
	}
	return out
}

// OneRun reports whether every combination of chamber settings has a single
// run: what differs between temperatures may then be the chamber's doing.
func (p *Plan) OneRun() bool {
	var runs []int
	for k := range p.Runs {
		runs = append(runs, k)
	}
	return len(linear.Levels(p.PlotKeys(runs))) == len(runs)
}
