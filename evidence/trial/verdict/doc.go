// Package verdict judges the sides of a trial's questions by the dishes: whether a
// level hatches eggs or none, whether one level hatches more than another, and
// what that makes of each side ([Case.Verdicts]). What a plan can hope for and what
// the counts say come from the same judge: package odds hears simulated counts,
// package outcome those of the bench.
//
// It refuses to decide what the dishes cannot tell: a temperature whose levels
// stood in one chamber each, eggs of which hardly any hatched anywhere.
package verdict
