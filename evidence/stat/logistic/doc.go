// Package logistic fits logistic models of the fraction of eggs hatched in
// dishes: independent eggs, dishes that spread more (quasi-binomial,
// beta-binomial, weights by moments, normal deviates on the logit scale), and
// estimates that stay finite where a treatment is all or nothing.
//
// It refuses to pass off a maximum that lies at infinity as an estimate:
// [ErrSeparated].
package logistic

import "errors"

// ErrSeparated reports that a treatment predicts all or nothing, so that the
// maximum-likelihood estimate is infinite; [FitFirth] stays finite.
var ErrSeparated = errors.New("a treatment is all or nothing: the ordinary estimate is infinite")

// ErrNoConvergence reports that an iteration ended without settling.
var ErrNoConvergence = errors.New("the fit did not converge")
