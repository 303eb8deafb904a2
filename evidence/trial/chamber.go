package trial

import "fmt"

// Chamber is a place that holds one temperature at a time, somewhere between
// Low and High °C. Low and High are equal where it cannot be set.
type Chamber struct {
	Name      string
	Low, High float64
}

// ChamberSlack is how far a chamber's temperature may stand from the level
// asked, in kelvin (common practice, no source).
const ChamberSlack = 0.5

// Holds reports whether the chamber can stand at t °C, give or take half a
// degree.
func (c Chamber) Holds(t float64) bool { return t >= c.Low-ChamberSlack && t <= c.High+ChamberSlack }

// Title returns the chamber's name, or one by its place in the list, from 0.
func (c Chamber) Title(i int) string {
	if c.Name != "" {
		return c.Name
	}
	return fmt.Sprintf("chamber %d", i+1)
}

// Lot is a batch of eggs of one origin, or one clutch of it: a block of the
// trial, whose eggs are more alike than others.
type Lot struct {
	Name   string
	Clutch string // "" for a lot whose clutches are mixed
	Eggs   int
}

// Refrigerator is what every keeper has for the cold-moist period; its range is
// common practice, no source.
func Refrigerator() Chamber { return Chamber{Name: "the refrigerator", Low: 2, High: 8} }
