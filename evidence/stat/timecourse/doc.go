// Package timecourse tells when the eggs of a dish or treatment hatched: time to
// half, mean time, spread and synchrony over the days of counting.
//
// Its indices speak of the eggs that hatched; it refuses a number where none did
// (NaN), and counts that cannot be.
package timecourse
