// Package stat holds what all statistics of hatched eggs share: counts and
// intervals of their fractions, the distributions that tests use, and the
// correction of p values for their number. The packages below it do one thing each:
//
//   - spread: eggs that share a dish, how dishes differ, and drawing their counts
//   - compare: groups of eggs without a model: exact tests, odds ratios, trends
//   - linear: least squares on dishes, analysis of variance, optimal subsets
//   - logistic: models of the hatched fraction, dishes that differ, bias reduction
//   - pooling: what several sources say together
//   - power: eggs and dishes that a comparison needs
//   - timecourse: when the eggs hatched
//
// Eggs in one dish share their water, their handling and their neighbours, so
// the dish is the unit: what treats eggs as independent says so in its name or
// comment. Every routine is checked against values from outside the project. Some
// are called by tests alone: formulas and exact tests beside which the simulations
// and models of the program are judged.
//
// All of them refuse Wald intervals of a proportion (their limits leave 0 to 1), an
// estimate from data that separate completely without saying so, and any hidden
// source of randomness: a caller passes the generator in.
package stat
