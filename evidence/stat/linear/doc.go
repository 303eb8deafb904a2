// Package linear works with linear models of dishes: least squares, what a model
// leaves to measure chance by ([ErrorSpace]), contrasts with an error of their own
// ([ContrastError]), analysis of variance over chamber runs and dishes, and the
// subset of treatments that tells most ([DOptimal]).
//
// It refuses columns that depend on each other where each would need an estimate
// of its own.
package linear
