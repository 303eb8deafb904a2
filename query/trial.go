package query

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/design"
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

// Past is what the finished trials of a taxon tell a planner. What they do not
// tell is nil, and by nobody.
type Past struct {
	Base    *float64   // hatched of eggs that got what the next trial holds and no treatment beside it
	Counted stat.Count // behind it
	BaseBy  []string   // by which trials, see [wording.Trial]
	Rho     *float64   // likeness of eggs in one dish
	RhoBy   []string
}

// Past returns what earlier trials of a taxon tell the next, in which all dishes
// share what is held. The fraction leans to one half by one egg hatched and one
// not, so that none of few does not read as never (Laplace's rule of succession);
// the likeness leans to the usual, see [design.Together].
func (e *Engine) Past(ctx context.Context, taxon string, held []trial.Fixed) (Past, error) {
	all, err := e.store.Trials(ctx)
	if err != nil {
		return Past{}, err
	}
	var out Past
	var alike []design.Likeness
	for _, t := range all {
		if t.Closed.IsZero() || t.Counts == nil || !strings.EqualFold(t.Plan.Taxon, taxon) {
			continue
		}
		r, err := outcome.Weigh(t.Plan, t.Counts, outcome.WeighOptions{})
		if err != nil {
			return Past{}, fmt.Errorf("trial %s: %w", t.Plan.Trial, err)
		}
		who := wording.Trial(t.Plan.Trial, t.Keeper)
		if n, ok := outcome.Base(t.Plan, r, held); ok {
			out.Counted.Eggs, out.Counted.Hatched = out.Counted.Eggs+n.Eggs, out.Counted.Hatched+n.Hatched
			out.BaseBy = append(out.BaseBy, who)
		}
		if l, ok := likenessOf(r); ok {
			alike, out.RhoBy = append(alike, l), append(out.RhoBy, who)
		}
	}
	if len(out.BaseBy) > 0 {
		out.Base = new(float64(out.Counted.Hatched+1) / float64(out.Counted.Eggs+2))
	}
	if len(alike) > 0 {
		out.Rho = new(design.Together(alike))
	}
	return out, nil
}

// likenessOf is what a result tells of the likeness of eggs in one dish; ok is
// false where its model could not.
func likenessOf(r *outcome.Result) (l design.Likeness, ok bool) {
	eggs, dishes := 0, 0
	for _, t := range r.Treatments {
		eggs, dishes = eggs+t.Eggs, dishes+t.Dishes
	}
	if !r.Model.Rho.Known() || r.Model.DF < 1 {
		return design.Likeness{}, false
	}
	return design.Likeness{Rho: float64(r.Model.Rho), DF: r.Model.DF, EggsPerDish: float64(eggs) / float64(dishes)}, true
}

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
