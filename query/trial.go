package query

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/outcome"
	"hatchlore/evidence/trial/verdict"
	"hatchlore/query/wording"
)

// TrialLine is one trial as a listing shows it.
type TrialLine struct {
	Trial    string    `json:"trial"`
	Taxon    string    `json:"taxon"`
	Start    trial.Day `json:"start"`
	Trigger  trial.Day `json:"trigger"`
	End      trial.Day `json:"end"`
	Factors  []string  `json:"factors"`
	Lots     []string  `json:"lots"`
	EggsUsed int       `json:"eggs_used"`
	counts.Progress
	State  string `json:"state"`
	Keeper string `json:"keeper"` // whose trial it is; "" for one's own
}

// States of a trial.
const (
	Planned  = "planned"  // nothing counted yet
	Counting = "counting" // some dishes wait for their last look
	Finished = "finished" // its result stands in the evidence table
)

// Trials lists the trials kept in the library, the latest made first.
func (e *Engine) Trials(ctx context.Context) ([]TrialLine, error) {
	all, err := e.store.Trials(ctx)
	if err != nil {
		return nil, err
	}
	out := make([]TrialLine, 0, len(all))
	for _, t := range all {
		out = append(out, lineOf(t))
	}
	return out, nil
}

func lineOf(t store.Trial) TrialLine {
	p := t.Plan
	l := TrialLine{Trial: p.Trial, Taxon: p.Taxon, Start: p.Start, Trigger: p.Trigger, End: p.End, Factors: []string{}, Lots: p.Lots(),
		EggsUsed: p.EggsUsed, State: Planned, Keeper: t.Keeper}
	for _, f := range p.Factors {
		l.Factors = append(l.Factors, string(f.ID))
	}
	l.Progress.Dishes = len(p.Dishes)
	if t.Counts != nil {
		l.Progress, l.State = counts.ProgressOf(p, t.Counts), Counting
	}
	if !t.Closed.IsZero() {
		l.State = Finished
	}
	return l
}

// Past is what the finished trials of a taxon tell a planner.
type Past struct {
	Trials       []string // by whom they are, see [wording.Trial]
	BaseFraction float64  // hatched of untreated eggs
	Rho          *float64 // likeness of eggs in one dish; nil when no trial could tell
}

// Past returns what earlier trials of a taxon tell; no trials when there is
// none with untreated eggs. The fraction leans to one half by one egg, so that
// none of few does not read as never (Laplace's rule of succession).
func (e *Engine) Past(ctx context.Context, taxon string) (Past, error) {
	all, err := e.store.Trials(ctx)
	if err != nil {
		return Past{}, err
	}
	var out Past
	eggs, hatched, dishes, rho := 0, 0, 0, 0.0
	for _, t := range all {
		if t.Closed.IsZero() || t.Counts == nil || !strings.EqualFold(t.Plan.Taxon, taxon) {
			continue
		}
		r, err := outcome.Weigh(t.Plan, t.Counts, outcome.WeighOptions{})
		if err != nil {
			return Past{}, fmt.Errorf("trial %s: %w", t.Plan.Trial, err)
		}
		bare, ok := outcome.Untreated(t.Plan, r)
		if !ok {
			continue
		}
		out.Trials = append(out.Trials, wording.Trial(t.Plan.Trial, t.Keeper))
		eggs, hatched = eggs+bare.Eggs, hatched+bare.Hatched
		if r.Model.Rho.Known() {
			n := len(t.Plan.Dishes)
			dishes, rho = dishes+n, rho+float64(n)*float64(r.Model.Rho)
		}
	}
	if len(out.Trials) == 0 {
		return Past{}, nil
	}
	out.BaseFraction = float64(hatched+1) / float64(eggs+2)
	if dishes > 0 {
		mean := min(max(rho/float64(dishes), 0), mostRho)
		out.Rho = &mean
	}
	return out, nil
}

// mostRho bounds the likeness taken from few dishes (common practice, no
// source): above it a plan for dishes makes no sense.
const mostRho = 0.5

// Finding is what a trial made of one side of a disagreement.
type Finding struct {
	Trial  string
	Keeper string // whose trial it is; "" for one's own
	verdict.Verdict
}

// Findings returns the verdicts of the finished trials by the id of
// the disagreement that they were planned for.
func (e *Engine) Findings(ctx context.Context) (map[string][]Finding, error) {
	all, err := e.store.Trials(ctx)
	if err != nil {
		return nil, err
	}
	slices.Reverse(all)
	out := map[string][]Finding{}
	for _, t := range all {
		if t.Closed.IsZero() || t.Counts == nil {
			continue
		}
		r, err := outcome.Weigh(t.Plan, t.Counts, outcome.WeighOptions{})
		if err != nil {
			return nil, fmt.Errorf("trial %s: %w", t.Plan.Trial, err)
		}
		for _, v := range r.Verdicts {
			out[v.Conflict] = append(out[v.Conflict], Finding{t.Plan.Trial, t.Keeper, v})
		}
	}
	return out, nil
}

// Promise is the eggs that a plan will take from a lot.
type Promise struct {
	Trial string
	Eggs  int
}

// Promised returns, by lot, the eggs of planned dishes that were not counted
// yet: they still lie in the lot.
func (e *Engine) Promised(ctx context.Context) (map[string][]Promise, error) {
	all, err := e.store.Trials(ctx)
	if err != nil {
		return nil, err
	}
	out := map[string][]Promise{}
	for _, t := range all {
		if !t.Closed.IsZero() {
			continue
		}
		spent := map[string]int{}
		if t.Counts != nil {
			spent = counts.Spent(t.Plan, t.Counts)
		}
		planned := map[string]int{}
		for _, d := range t.Plan.Dishes {
			planned[d.Lot] += d.Eggs
		}
		for _, lot := range t.Plan.Lots() {
			if n := planned[lot] - spent[lot]; n > 0 {
				out[lot] = append(out[lot], Promise{t.Plan.Trial, n})
			}
		}
	}
	return out, nil
}
