// Package outcome weighs the counts of a trial: the hatched fraction of each
// treatment with its interval, a logistic model in which dishes differ, a verdict
// on each side of each question ([Weigh]), a picture of the fractions, and the
// result told as a page with claims ([Tell]). [WeighTable] weighs any other
// table of dishes.
//
// It refuses counts of fewer than two dishes. What the dishes cannot tell is
// said in the notes and left undecided, never guessed: a temperature with one
// chamber run has no test, whatever its dishes show.
package outcome
