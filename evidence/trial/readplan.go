package trial

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
)

// MostCounted is more eggs than anybody counts in one dish.
const MostCounted = 100000

// ReadPlan reads a plan from its JSON and refuses one that counts could not be
// weighed by. All that is wrong is reported together.
func ReadPlan(r io.Reader) (*Plan, error) {
	p := &Plan{}
	if err := json.NewDecoder(r).Decode(p); err != nil {
		return nil, fmt.Errorf("reading the plan: %w", err)
	}
	if err := p.Check(); err != nil {
		return nil, fmt.Errorf("the plan %s is damaged: %w", p.Trial, err)
	}
	return p, nil
}

// Check lists what is wrong with a plan that came from elsewhere.
func (p *Plan) Check() error {
	var wrong []error
	say := func(format string, args ...any) { wrong = append(wrong, fmt.Errorf(format, args...)) }
	if len(p.Dishes) == 0 || len(p.Factors) == 0 || len(p.Runs) == 0 {
		say("it has no dishes, factors or runs")
	}
	for _, f := range p.Factors {
		if len(f.Levels) < 2 {
			say("factor %s has fewer than two levels", f.ID)
		}
	}
	for k, run := range p.Runs {
		if run.Run != k+1 || !slices.ContainsFunc(p.Dishes, func(d Dish) bool { return d.Run == run.Run }) {
			say("run %d is out of order or has no dish", run.Run)
		}
	}
	labels := map[string]bool{}
	for _, d := range p.Dishes {
		if labels[d.Label] || d.Label == "" {
			say("the label %q stands on two dishes or is empty", d.Label)
		}
		labels[d.Label] = true
		if d.Eggs < 1 || d.Eggs > MostCounted || d.Run < 1 || d.Run > len(p.Runs) {
			say("dish %s has %d eggs in run %d", d.Label, d.Eggs, d.Run)
		}
		for _, f := range p.Factors {
			if s, ok := d.Levels[f.ID]; !ok || !d.Control && !slices.Contains(f.Levels, s) {
				say("dish %s has no level of %s", d.Label, f.ID)
			}
		}
	}
	return errors.Join(wrong...)
}
