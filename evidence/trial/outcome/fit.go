package outcome

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
	"hatchlore/evidence/stat/logistic"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/verdict"
)

// controlTerm and runTerm are columns that a planned trial adds to its factors:
// the added untreated dishes, and chamber runs of one temperature.
const (
	controlTerm = "control"
	runTerm     = "run"
	lotTerm     = "lot"
)

// quadraturePoints integrate over the dishes' deviates to more digits than are
// printed.
const quadraturePoints = 25

// fit adds the model to the result.
func (r *Result) fit(names []string, factors []trial.Factor, dishes []counts.Dish, opt WeighOptions, p *trial.Plan) error {
	table := countTable(names, factors, dishes, p)
	terms := opt.Terms
	if terms == nil {
		terms = r.defaultTerms(names, table)
	}
	blocks := blockTerms(table, p)
	m, err := logistic.NewModel(table, append(slices.Clone(terms), blocks...))
	if err != nil {
		return err
	}
	fit, kind, err := fitModel(m, opt.Model, r.tooAlike)
	if err != nil {
		return err
	}
	r.describe(m, fit, kind, blocks)
	for _, g := range m.Groups {
		if !slices.Contains(blocks, g.Term) && len(g.Columns) > 0 {
			if err := r.test(m, fit, kind, g); err != nil {
				return err
			}
		}
	}
	if p != nil {
		r.betweenUnits(p, caseOf(p, dishes, r.tooAlike))
	}
	r.adjust(opt.Correction)
	r.sayModel(m, fit, kind)
	return nil
}

func (r *Result) defaultTerms(names []string, t logistic.Table) []string {
	terms := []string{}
	for k, n := range t.Names {
		if n == runTerm || n == lotTerm {
			continue
		}
		if len(linear.Levels(t.Columns[k])) > 1 {
			terms = append(terms, n)
		} else if slices.Contains(names, n) {
			r.note("%s has one level in the counted dishes and is left out of the model", n)
		}
	}
	return terms
}

// blockTerms are the columns that only take away differences between chamber
// runs and between lots.
func blockTerms(t logistic.Table, p *trial.Plan) []string {
	var out []string
	if p == nil {
		return nil
	}
	for _, b := range []string{runTerm, lotTerm} {
		if k := slices.Index(t.Names, b); k >= 0 && len(linear.Levels(t.Columns[k])) > 1 {
			out = append(out, b)
		}
	}
	return out
}

// countTable writes the dishes as columns. In the added control every factor
// stands at its baseline and the control column alone tells it apart.
func countTable(names []string, factors []trial.Factor, dishes []counts.Dish, p *trial.Plan) logistic.Table {
	t := logistic.Table{Names: slices.Clone(names)}
	control := slices.ContainsFunc(dishes, func(d counts.Dish) bool { return d.Control })
	for k := range names {
		var col, order []string
		if factors != nil {
			for _, l := range factors[k].Levels {
				order = append(order, l.String())
			}
		}
		for _, d := range dishes {
			if d.Control && !factors[k].WholePlot {
				col = append(col, order[0])
			} else {
				col = append(col, d.Levels[k].String())
			}
		}
		t.Columns, t.Order = append(t.Columns, col), append(t.Order, order)
	}
	add := func(name string, of func(counts.Dish) string) {
		var col []string
		for _, d := range dishes {
			col = append(col, of(d))
		}
		t.Names, t.Columns, t.Order = append(t.Names, name), append(t.Columns, col), append(t.Order, nil)
	}
	if control {
		add(controlTerm, func(d counts.Dish) string {
			if d.Control {
				return "untreated"
			}
			return "no"
		})
	}
	if p != nil {
		add(runTerm, func(d counts.Dish) string { return fmt.Sprint(p.Dishes[d.Planned].Run) })
		add(lotTerm, func(d counts.Dish) string { return p.Dishes[d.Planned].Block() })
	}
	for _, d := range dishes {
		t.Counts = append(t.Counts, stat.Count{Hatched: d.Hatched, Eggs: d.Eggs})
	}
	return t
}

// fitModel fits the model asked for, and the bias-reduced one where a treatment
// is all or nothing. Dishes too alike to be believed are taken for independent
// eggs.
func fitModel(m *logistic.Model, kind string, tooAlike bool) (*logistic.Fit, string, error) {
	var fit *logistic.Fit
	var err error
	switch kind {
	case "", QuasiBinomial:
		kind = QuasiBinomial
		fit, err = logistic.FitQuasi(m)
		if tooAlike {
			fit, err = logistic.FitQuasiFloored(m)
		}
	case BetaBinomial:
		fit, err = logistic.FitBetaBinomial(m)
	case Binomial:
		fit, err = logistic.FitBinomial(m)
	case MixedLogistic:
		var mixed *logistic.MixedFit
		if mixed, err = logistic.FitMixed(m, quadraturePoints); err == nil {
			fit = &mixed.Fit
		}
	case BiasReduced:
		fit, err = logistic.FitFirthQuasi(m)
	default:
		return nil, "", fmt.Errorf("%q is no model: choose %s", kind, strings.Join([]string{QuasiBinomial, BetaBinomial, BiasReduced, Binomial, MixedLogistic}, ", "))
	}
	if errors.Is(err, logistic.ErrSeparated) || errors.Is(err, logistic.ErrNoConvergence) {
		kind = BiasReduced
		fit, err = logistic.FitFirthQuasi(m)
	}
	return fit, kind, err
}

func (r *Result) describe(m *logistic.Model, f *logistic.Fit, kind string, blocks []string) {
	r.Model = ModelResult{Kind: kind, Dispersion: Figure(f.Dispersion), Rho: Figure(f.Rho), DF: f.DF,
		Deviance: Figure(f.Deviance), LogLik: Figure(f.LogLik), Terms: []TermResult{}, Tests: []TestResult{}, Dropped: []string{}}
	if kind != BetaBinomial {
		r.Model.Rho = Figure(math.NaN())
		if w, err := logistic.FitWilliams(m); err == nil {
			r.Model.Rho = Figure(w.Rho)
		}
	}
	var df *int
	if (kind == QuasiBinomial || kind == BiasReduced) && f.DF > 0 {
		df = &f.DF
	}
	var hidden []int
	for _, g := range m.Groups {
		if slices.Contains(blocks, g.Term) {
			hidden = append(hidden, g.Columns...)
		}
	}
	for j, term := range f.Terms {
		if !slices.Contains(hidden, j) {
			r.Model.Terms = append(r.Model.Terms, TermResult{Term: term, Estimate: Figure(f.Estimate[j]), SE: Figure(f.SE[j]),
				Statistic: Figure(f.Statistic[j]), DF: df, P: Figure(f.P[j]), PAdjusted: Figure(math.NaN())})
		}
	}
	for _, a := range m.Aliased {
		if !slices.ContainsFunc(blocks, func(b string) bool { return strings.HasPrefix(a, b+"=") }) {
			r.Model.Dropped = append(r.Model.Dropped, a)
		}
	}
}

// test adds the joint test of one term's columns.
func (r *Result) test(m *logistic.Model, f *logistic.Fit, kind string, g logistic.TermGroup) error {
	var t stat.TermTest
	var err error
	switch kind {
	case BiasReduced:
		t, err = f.TestFirth(m, g.Columns)
	case BetaBinomial:
		t, err = f.TestBetaBinomial(m, g.Columns)
	case MixedLogistic:
		t, err = (&logistic.MixedFit{Fit: *f}).Test(m, g.Columns, quadraturePoints)
	default:
		t, err = f.Test(m, g.Columns)
	}
	if err != nil {
		return fmt.Errorf("testing %s: %w", g.Term, err)
	}
	out := TestResult{Term: g.Term, Statistic: Figure(t.Statistic), DF1: t.DF1, P: Figure(t.P), PAdjusted: Figure(math.NaN())}
	if t.DF2 > 0 {
		out.DF2 = &t.DF2
	}
	r.Model.Tests = append(r.Model.Tests, out)
	return nil
}

// adjust corrects the p values of terms and of tests, each for their number.
func (r *Result) adjust(c stat.Correction) {
	p := []float64{}
	for _, t := range r.Model.Terms {
		if t.Term == logistic.Intercept {
			p = append(p, math.NaN())
		} else {
			p = append(p, float64(t.P))
		}
	}
	for i, v := range c.Adjust(p) {
		r.Model.Terms[i].PAdjusted = Figure(v)
	}
	p = p[:0]
	for _, t := range r.Model.Tests {
		p = append(p, float64(t.P))
	}
	for i, v := range c.Adjust(p) {
		r.Model.Tests[i].PAdjusted = Figure(v)
	}
}

// betweenUnits puts tests against the units of chamber runs in place of tests
// against dishes for the factors that are set for a run.
func (r *Result) betweenUnits(p *trial.Plan, c verdict.Case) {
	for k, f := range p.Factors {
		if !f.WholePlot {
			continue
		}
		testable := false
		for i := range r.Model.Terms {
			t := &r.Model.Terms[i]
			level, ok := strings.CutPrefix(t.Term, string(f.ID)+"=")
			at := slices.IndexFunc(f.Levels, func(l trial.Setting) bool { return l.String() == level })
			if !ok || at < 0 {
				continue
			}
			t.SE, t.Statistic, t.P, t.DF = Figure(math.NaN()), Figure(math.NaN()), Figure(math.NaN()), nil
			if d := c.Contrast(k, f.Levels[:1], f.Levels[at:at+1]); d.Tested {
				testable = true
				t.Statistic, t.DF = Figure(d.T()), &d.DF
				t.SE = Figure(math.Abs(float64(t.Estimate / t.Statistic)))
				t.P = Figure(stat.StudentTwoSided(d.T(), float64(d.DF)))
			}
		}
		if !testable {
			r.note("%s cannot be tested: no temperature stood in a second place to compare with", f.ID.Label())
		}
		if i := slices.IndexFunc(r.Model.Tests, func(t TestResult) bool { return t.Term == string(f.ID) }); i >= 0 {
			r.Model.Tests[i] = r.unitTest(r.Model.Tests[i], c, k)
		}
	}
}

// unitTest is the joint test of the levels of factor k between its units.
func (r *Result) unitTest(t TestResult, c verdict.Case, k int) TestResult {
	t.Statistic, t.P, t.DF2 = Figure(math.NaN()), Figure(math.NaN()), nil
	if f, ok := c.TestUnits(k); ok {
		t.Statistic, t.P, t.DF1, t.DF2 = Figure(f.Statistic), Figure(f.P), f.DF1, &f.DF2
	}
	return t
}
