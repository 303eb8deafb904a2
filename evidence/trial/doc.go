// Package trial turns disagreements about hatching into a trial that the eggs
// and chambers at hand can pay for: treatments, dishes drawn by lot under blind
// labels, a calendar of handling steps, the power of each comparison and the
// chance that the counts will settle each question; later it weighs the counts.
//
// The way through: [New] turns a [Request] into a [Plan]; [Plan.Agenda],
// [Plan.WriteCalendar], [Plan.WriteSheets] and [Plan.WriteCountSheet] bring it to
// the bench; [ReadCounts] and [Counts.Merge] take what was counted; [Plan.Weigh]
// makes a [Result] with a [Verdict] on each side, and [Plan.Report] tells it as a
// page with claims. [Counts.Weigh] weighs any other table.
//
// It refuses a layout that could not be analysed: without a second dish per
// treatment there is nothing to measure chance by, and a temperature that no
// chamber can hold is not planned. What cannot be tested in a layout that is
// otherwise sound (a temperature with a single chamber run) is planned, said in
// the plan's warnings, and given a power of 0. The same request with the same
// seed gives the same plan.
package trial
