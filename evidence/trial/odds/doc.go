// Package odds says how much a layout of dishes can promise: the power of each
// comparison, and the chance that the counts will settle each question. It
// simulates trials in which dishes treated alike differ (beta-binomial), and
// judges each as the analysis will: the design-effect approximation would promise
// 0.04 to 0.15 too much with few dishes.
//
// It refuses a layout that leaves nothing to measure chance by. A factor with one
// chamber run for each setting has a power of 0.
package odds
