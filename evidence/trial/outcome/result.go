package outcome

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/compare"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/verdict"
)

// Figure is a number that may be missing: NaN and infinities print as null.
type Figure float64

// MarshalJSON writes a number or null.
func (f Figure) MarshalJSON() ([]byte, error) {
	if !f.Known() {
		return []byte("null"), nil
	}
	return json.Marshal(float64(f))
}

// UnmarshalJSON reads a number or null.
func (f *Figure) UnmarshalJSON(b []byte) error {
	if string(b) == "null" {
		*f = Figure(math.NaN())
		return nil
	}
	return json.Unmarshal(b, (*float64)(f))
}

// Known reports whether there is a number.
func (f Figure) Known() bool { return !math.IsNaN(float64(f)) && !math.IsInf(float64(f), 0) }

// Result is what the counts of a trial say.
type Result struct {
	Outcome    string            `json:"outcome"` // what the model weighs: hatched or emerged
	Treatments []TreatmentResult `json:"treatments"`
	Model      ModelResult       `json:"model"`
	Exact      *ExactResult      `json:"exact,omitempty"`
	Verdicts   []verdict.Verdict `json:"verdicts"`
	Level      float64           `json:"verdict_level,omitempty"` // of the verdicts' intervals: 95 % shared out over the questions
	Notes      []string          `json:"notes"`                   // what a reader must know beside the figures
	tooAlike   bool              // the dishes agree more closely than eggs can
}

// TreatmentResult is the outcome of the dishes treated alike. Low and High are
// the Wilson interval at 95 %, which takes eggs as independent.
type TreatmentResult struct {
	Levels   map[string]trial.Setting `json:"levels"`
	Control  bool                     `json:"control"`
	Dishes   int                      `json:"dishes"`
	Eggs     int                      `json:"eggs"`
	Hatched  int                      `json:"hatched"`
	Fraction float64                  `json:"fraction"`
	Low      float64                  `json:"low"`
	High     float64                  `json:"high"`
	Emerged  int                      `json:"emerged"` // at least: the most seen out of the shell, hatched included
	Dead     int                      `json:"dead"`
	HalfDays Figure                   `json:"half_days"` // from trigger to half of those that hatched
}

// ModelResult is the logistic model of the dishes. Estimates are differences on
// the logit scale from the baseline.
type ModelResult struct {
	Kind       string       `json:"kind"`       // quasi-binomial, beta-binomial, bias-reduced, binomial, logistic-normal
	Dispersion Figure       `json:"dispersion"` // factor on the variance that independent eggs would have
	Rho        Figure       `json:"rho"`        // correlation of eggs within a dish
	DF         int          `json:"df"`         // dishes less terms
	Deviance   Figure       `json:"deviance"`
	LogLik     Figure       `json:"log_likelihood"`
	Terms      []TermResult `json:"terms"`
	Tests      []TestResult `json:"tests"`
	Dropped    []string     `json:"dropped"` // terms that the others leave nothing of
}

// TermResult is one coefficient. DF is null for a normal test; P is adjusted
// over all terms but the intercept.
type TermResult struct {
	Term      string `json:"term"`
	Estimate  Figure `json:"estimate"`
	SE        Figure `json:"se"`
	Statistic Figure `json:"statistic"`
	DF        *int   `json:"df"`
	P         Figure `json:"p"`
	PAdjusted Figure `json:"p_adjusted"`
}

// TestResult tests all coefficients of a term together: F, or chi-squared where
// DF2 is null.
type TestResult struct {
	Term      string `json:"term"`
	Statistic Figure `json:"statistic"`
	DF1       int    `json:"df1"`
	DF2       *int   `json:"df2"`
	P         Figure `json:"p"`
	PAdjusted Figure `json:"p_adjusted"`
}

// ExactResult is Fisher's exact test of two treatments, eggs taken as
// independent.
type ExactResult struct {
	P         float64 `json:"p"`
	OddsRatio Figure  `json:"odds_ratio"`
	Low       Figure  `json:"low"`
	High      Figure  `json:"high"`
}

// Kinds of model.
const (
	QuasiBinomial = "quasi-binomial"
	BetaBinomial  = "beta-binomial"
	BiasReduced   = "bias-reduced"
	Binomial      = "binomial"
	MixedLogistic = "logistic-normal" // dishes differ by normal deviates on the logit scale
)

// WeighOptions say how counts are to be weighed.
type WeighOptions struct {
	Terms      []string        // of the model, as "drying", "drying:light", "trend(drying)"; nil: each factor by itself
	Model      string          // "" is quasi-binomial
	Correction stat.Correction // "" is Holm
	Outcome    string          // "" or hatched; emerged weighs embryos out of the shell, hatched included
}

// outcome puts the count to be weighed in the place of the hatched.
func (o WeighOptions) outcome(dishes []counts.Dish) error {
	switch o.Outcome {
	case "", "hatched":
		return nil
	case "emerged":
		for i := range dishes {
			dishes[i].Hatched = dishes[i].Emerged
		}
		return nil
	}
	return fmt.Errorf("%q is no outcome: choose hatched or emerged", o.Outcome)
}

// WeighTable works out a table of counts that brings its own factor columns.
func WeighTable(c *counts.Sheet, opt WeighOptions) (*Result, error) {
	at := c.FactorColumns(factorsIn(opt.Terms))
	dishes, err := c.Dishes(at)
	if err != nil {
		return nil, err
	}
	var names []string
	for _, k := range at {
		names = append(names, c.Names[k])
	}
	return weigh(names, nil, dishes, opt, nil)
}

// factorsIn returns the names that terms such as "trend(a):b" speak of.
func factorsIn(terms []string) []string {
	var out []string
	for _, t := range terms {
		for part := range strings.SplitSeq(t, ":") {
			part = strings.TrimSpace(part)
			out = append(out, strings.TrimSuffix(strings.TrimPrefix(part, "trend("), ")"))
		}
	}
	return out
}

// Weigh works out the counts of a planned trial: dishes are known by label or
// number, eggs and levels by the plan. Verdicts say what became of each side of
// the questions.
func Weigh(p *trial.Plan, c *counts.Sheet, opt WeighOptions) (*Result, error) {
	dishes, err := counts.Dishes(p, c)
	if err != nil {
		return nil, err
	}
	var names []string
	for _, f := range p.Factors {
		names = append(names, string(f.ID))
	}
	r, err := weigh(names, p.Factors, dishes, opt, p)
	if err != nil {
		return nil, err
	}
	if now := counts.ProgressOf(p, c); now.Finished < now.Counted {
		r.note("%d of the %s counted had no last look yet: what hatches there later is not in these figures", now.Counted-now.Finished, trial.Plural(now.Counted, "dish"))
	}
	return r, nil
}

// weigh is common to planned and other tables; p is nil for the latter.
func weigh(names []string, factors []trial.Factor, dishes []counts.Dish, opt WeighOptions, p *trial.Plan) (*Result, error) {
	if len(dishes) < 2 {
		return nil, fmt.Errorf("%s cannot be weighed: count at least two", trial.Plural(len(dishes), "dish"))
	}
	r := &Result{Outcome: cmp.Or(opt.Outcome, "hatched"), Verdicts: []verdict.Verdict{}, Notes: []string{}}
	r.Treatments = treatmentResults(names, factors, dishes)
	if err := opt.outcome(dishes); err != nil {
		return nil, err
	}
	if r.tooAlike = tooAlike(dishes); r.tooAlike {
		r.note("dishes treated alike agree more closely than chance allows: look whether counts were copied from dish to dish. Intervals and tests take every egg as independent instead, and are no surer than that")
	}
	if err := r.fit(names, factors, dishes, opt, p); err != nil {
		return nil, err
	}
	if len(r.Treatments) == 2 && (p == nil || len(p.Treatments()) == 2) && opt.Outcome != "emerged" {
		r.Exact = exact(r.Treatments)
		r.sayExact(len(dishes))
	}
	r.sayExtremes(dishes)
	if p != nil {
		if opt.Outcome != "emerged" { // the questions are about hatching
			judged := caseOf(p, dishes, r.tooAlike)
			if r.Verdicts = judged.Verdicts(); len(r.Verdicts) > 0 {
				r.Level = judged.Level()
			}
		}
		if n := len(p.Dishes) - len(dishes); n > 0 {
			r.note("%d of %d dishes were not counted", n, len(p.Dishes))
		}
	}
	return r, nil
}

// exact is nil where all or none hatched in both.
func exact(ts []TreatmentResult) *ExactResult {
	a, b := stat.Count{Hatched: ts[1].Hatched, Eggs: ts[1].Eggs}, stat.Count{Hatched: ts[0].Hatched, Eggs: ts[0].Eggs}
	i := compare.OddsRatioInterval(a, b, 0.95)
	if math.IsNaN(compare.OddsRatio(a, b)) {
		return nil
	}
	return &ExactResult{compare.Fisher(a, b).TwoSided, Figure(compare.OddsRatio(a, b)), Figure(i.Low), Figure(i.High)}
}
