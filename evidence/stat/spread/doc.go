// Package spread tells how dishes treated alike differ: the distribution of the
// eggs that hatch in one dish ([BetaBinomial]) with drawing from it, the design
// effect, a test for more spread than chance makes ([Tarone]), and a chance for
// less ([AgreementChance]).
//
// It draws from the generator that a caller passes in, and refuses fractions and
// correlations outside 0 to 1.
package spread
