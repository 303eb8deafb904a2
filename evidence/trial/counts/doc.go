// Package counts takes what was counted in the dishes of a trial: sheets as
// CSV, look by look, each corrected look with what it said before; how far the
// counting has come, and what is due on a day.
//
// It refuses what cannot be, by line, the first few faults in words and the rest
// counted: a dish that the plan has not, more eggs out of a dish than were set in
// it, a look before the eggs were set out, two looks at a dish on one day.
package counts
