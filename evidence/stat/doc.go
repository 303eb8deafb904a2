// Package stat holds the statistics that counts of hatched eggs need:
// intervals of proportions, exact and trend tests, logistic models with
// dish-to-dish spread, bias-reduced fits, pooling of several sources, hatching
// indices, and power at dish level.
//
// Eggs in one dish share their water, their handling and their neighbours, so
// the dish is the unit: what treats eggs as independent says so in its name or
// comment. Every routine is checked against values from outside the project.
//
// It refuses Wald intervals of a proportion (their limits leave 0 to 1), an
// estimate from data that separate completely without saying so, and any hidden
// source of randomness: a caller passes the generator in.
package stat

import (
	"errors"
	"math"
)

// ErrSeparated reports that a treatment predicts all or nothing, so that the
// maximum-likelihood estimate is infinite; [FitFirth] stays finite.
var ErrSeparated = errors.New("a treatment is all or nothing: the ordinary estimate is infinite")

// ErrNoConvergence reports that an iteration ended without settling.
var ErrNoConvergence = errors.New("the fit did not converge")

// Interval is a confidence interval.
type Interval struct{ Low, High float64 }

// Contains reports whether x lies within the interval, ends included.
func (i Interval) Contains(x float64) bool { return i.Low <= x && x <= i.High }

func logit(p float64) float64 { return math.Log(p) - math.Log1p(-p) }

func expit(x float64) float64 {
	if x >= 0 {
		return 1 / (1 + math.Exp(-x))
	}
	e := math.Exp(x)
	return e / (1 + e)
}
