// Package odds says how much a plan can promise: the power of each comparison,
// and the chance that the counts will settle each question. It simulates trials in
// which dishes treated alike differ (beta-binomial), and lets the judge of package
// verdict hear them as it will hear the true counts: the design-effect
// approximation would promise 0.04 to 0.15 too much with few dishes.
//
// It refuses a layout that leaves nothing to measure chance by. A temperature
// whose levels stand in one chamber each has a power of 0.
package odds
