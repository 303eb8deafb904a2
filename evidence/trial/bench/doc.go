// Package bench brings a plan to the bench: it dates the steps of every dish
// ([Schedule]), back from one trigger day or forward from the first day and off
// the days on which the keeper handles nothing, and writes the agenda as an
// iCalendar file, as bench sheets with labels to cut, and as a CSV to fill in.
//
// It refuses a calendar that would put a step on a barred day, and says which
// day would do. Nothing that a counter sees tells a dish's treatment.
package bench
