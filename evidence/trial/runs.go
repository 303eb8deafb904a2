package trial

import (
	"fmt"
	"slices"

	"hatchlore/evidence"
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

// Place returns where a run stands for a factor that is set for chamber runs:
// its chamber, or the place of its cold-moist period where the factor is the
// temperature of that. A place that the plan does not know is the run's own.
func (r Run) Place(id evidence.Factor) string {
	place := r.Chamber
	if id == evidence.ColdTemperature {
		place = r.Cold
	}
	if place == "" {
		return fmt.Sprintf("run %d", r.Run)
	}
	return place
}

// Units numbers, from 0, the units in which a factor that is set for chamber runs
// is tested, for each of the given runs (indices into Runs). Runs at one setting in
// one place are one unit: a repeat in the same chamber shows what differs from
// time to time, not what differs between chambers.
func (p *Plan) Units(id evidence.Factor, runs []int) []int {
	var seen []string
	var out []int
	for i, l := range p.RunSettings(runs, id) {
		key := l.String() + " in " + p.Runs[runs[i]].Place(id)
		if !slices.Contains(seen, key) {
			seen = append(seen, key)
		}
		out = append(out, slices.Index(seen, key))
	}
	return out
}

// OnePlace reports whether a factor is set for chamber runs and the given levels
// of it stood in a single place: what happened there may be the chamber's doing.
func (p *Plan) OnePlace(f Factor, levels []Setting) bool {
	if !f.WholePlot {
		return false
	}
	places := map[string]bool{}
	for i, l := range p.RunSettings(p.AllRuns(), f.ID) {
		if slices.Contains(levels, l) {
			places[p.Runs[i].Place(f.ID)] = true
		}
	}
	return len(places) < 2
}

// Testable reports whether the plan has a level of the factor in more places than
// one, against which a difference between levels can be set. Factors that are set
// for dishes are.
func (p *Plan) Testable(f Factor) bool {
	if !f.WholePlot {
		return true
	}
	return slices.ContainsFunc(f.Levels, func(l Setting) bool { return !p.OnePlace(f, []Setting{l}) })
}

// Repeated returns the runs (indices into Runs) that repeat an earlier one: the same
// chamber settings, in the place where that stood for the factor.
func (p *Plan) Repeated(f Factor) []int {
	units := p.Units(f.ID, p.AllRuns())
	seen := map[string]bool{}
	var out []int
	for k := range p.Runs {
		key := fmt.Sprint(units[k])
		for _, g := range p.Factors {
			if g.WholePlot {
				key += " " + p.RunSettings([]int{k}, g.ID)[0].String()
			}
		}
		if seen[key] {
			out = append(out, k)
		}
		seen[key] = true
	}
	return out
}

// AllRuns returns the indices of the plan's runs.
func (p *Plan) AllRuns() []int {
	out := make([]int, len(p.Runs))
	for k := range out {
		out[k] = k
	}
	return out
}
