package outcome

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hatchlore/evidence/stat/logistic"
	"hatchlore/evidence/stat/spread"
	"hatchlore/evidence/trial/counts"
)

func (r *Result) note(format string, args ...any) {
	r.Notes = append(r.Notes, fmt.Sprintf(format, args...))
}

// wideSpread is the factor on the variance of independent eggs from which their
// intervals are too narrow to be shown without a word (a judgement, no source: a
// quarter wider).
const wideSpread = 1.5

// fewDishes are the degrees of freedom below which a spread taken as known makes
// tests too sure (measured in TestSizes).
const fewDishes = 20

// sayModel says what a reader of the model must know.
func (r *Result) sayModel(m *logistic.Model, f *logistic.Fit, kind string) {
	if f.DF < 1 {
		r.note("the model has as many terms as dishes: nothing is left to measure chance by; drop a term or count more dishes")
	}
	if kind == BiasReduced {
		r.note("a treatment or a lot is all or nothing, or nearly so: estimates are bias-reduced (Firth), tests by penalised likelihood")
	}
	if kind == QuasiBinomial && f.Dispersion < 1 {
		r.sayCloser(m, f)
	}
	if d := f.Dispersion; (kind == QuasiBinomial || kind == BiasReduced) && d >= wideSpread {
		r.note("dishes spread %.1f times as much as independent eggs would: the intervals of the hatched fractions, which take every egg by itself, would be about %.1f times as wide if they allowed for that, as model and verdicts do", d, math.Sqrt(d))
	}
	if (kind == BetaBinomial || kind == MixedLogistic) && f.DF < fewDishes {
		r.note("the model takes the spread of dishes as known: with so few of them its p are somewhat too small, and 7 to 9 of 100 trials without a difference fall below 0.05")
	}
	r.sayParts(m)
	if t := spread.Tarone(m.Counts); kind == Binomial && t > 2 {
		r.note("dishes differ more than independent eggs would (z %.1f): the binomial model is too sure of itself", t)
	}
	for _, d := range r.Model.Dropped {
		r.note("%s cannot be told from the terms before it", d)
	}
}

// sayCloser names the terms that stand out only because the dishes happen to agree
// more closely than independent eggs would.
func (r *Result) sayCloser(m *logistic.Model, f *logistic.Fit) {
	floored, err := logistic.FitQuasiFloored(m)
	if err != nil {
		return
	}
	for _, g := range m.Groups {
		i := slices.IndexFunc(r.Model.Tests, func(t TestResult) bool { return t.Term == g.Term })
		if i < 0 || !(r.Model.Tests[i].P < 0.05) {
			continue
		}
		if t, err := floored.Test(m, g.Columns); err == nil && t.P >= 0.05 {
			r.note("%s stands out because the dishes happen to agree more closely than independent eggs would; with every egg taken for itself its p is %.2f", g.Term, t.P)
		}
	}
}

// sayParts warns of terms that stand in a product beside themselves: treatment
// coding makes their own test one at the other factor's first level.
func (r *Result) sayParts(m *logistic.Model) {
	for _, g := range m.Groups {
		for _, h := range m.Groups {
			parts := strings.Split(h.Term, ":")
			if i := slices.Index(parts, g.Term); i >= 0 && len(parts) > 1 && len(h.Columns) > 0 {
				others := slices.Delete(slices.Clone(parts), i, i+1)
				r.note("beside %s, the term %s tells of the first level of %s alone; for what %s does on the whole leave %s out", h.Term, g.Term, strings.Join(others, " and "), g.Term, h.Term)
			}
		}
	}
}

// sayExact says what the exact test of two treatments is worth beside several
// dishes of each (measured in TestSizes).
func (r *Result) sayExact(dishes int) {
	if r.Exact != nil && dishes > len(r.Treatments) {
		r.note("the exact test takes every egg by itself: where dishes differ it can call up to a quarter of trials without a difference different, the more so the more eggs a dish has; go by the model's p")
	}
}

// sayExtremes says where all treatments came to the same, and where what was
// counted is not what was weighed.
func (r *Result) sayExtremes(dishes []counts.Dish) {
	eggs, out, emerged := 0, 0, 0
	for _, d := range dishes {
		eggs, out, emerged = eggs+d.Eggs, out+d.Hatched, emerged+d.Emerged
	}
	switch {
	case out == eggs:
		r.note("every egg %s: there is nothing to compare", r.Outcome)
	case out == 0:
		r.note("no egg %s, so there is nothing to compare: the eggs may be dead or lack something that no treatment gave", r.Outcome)
	}
	if out == 0 && emerged > 0 {
		r.note("%d eggs emerged and none of them hatched: weigh the emerged for what the treatments did to them", emerged)
	}
}
