// Package factorial makes the treatments of a trial: every combination of the
// factors' levels ([Full]), a regular fraction of them ([Fraction]) or the subset
// that tells single factors apart best ([Optimal]), with untreated eggs beside
// them.
//
// It knows nothing of eggs and dishes, and refuses a subset that does not tell
// the factors apart.
package factorial
