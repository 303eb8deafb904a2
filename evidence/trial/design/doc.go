// Package design turns disagreements about hatching into a trial that the eggs
// and chambers at hand can pay for: treatments, dishes drawn by lot under blind
// labels, the power of each comparison and the chance that the counts will
// settle each question, beside what other numbers of eggs would buy. [New] turns a
// [Request] into a plan.
//
// It refuses a layout that could not be analysed: without a second dish per
// treatment there is nothing to measure chance by, and a temperature that no
// chamber can hold is not planned. What cannot be tested in a layout that is
// otherwise sound (a temperature with a single chamber run) is planned, said in
// the plan's warnings, and given a power of 0. The same request with the same
// seed gives the same plan.
package design
