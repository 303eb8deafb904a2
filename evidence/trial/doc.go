// Package trial holds the nouns of a hatching trial: factors and their
// settings, the question between sides of a disagreement, chambers, dishes and
// their steps, and the [Plan].
//
// The way of a trial through the packages: design turns a request into a plan,
// odds says what it can promise and caveat what it cannot tell; bench dates its
// steps and writes calendar, sheets and labels; counts takes what was counted;
// outcome weighs it; verdict judges each side, by the same yardstick for odds and
// for outcome.
//
// The package does no I/O but that of a plan's JSON. It refuses a level that
// nobody could set, and a plan that counts could not be weighed by.
package trial
