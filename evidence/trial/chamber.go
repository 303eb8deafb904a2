package trial

// Chamber is a place that holds one temperature at a time, somewhere between
// Low and High °C. Low and High are equal where it cannot be set.
type Chamber struct {
	Name      string
	Low, High float64
}

// chamberSlack is how far a chamber's temperature may stand from the level
// asked, in kelvin (common practice, no source).
const chamberSlack = 0.5

// Holds reports whether the chamber can stand at t °C, give or take half a
// degree.
func (c Chamber) Holds(t float64) bool { return t >= c.Low-chamberSlack && t <= c.High+chamberSlack }

// Lot is a batch of eggs of one origin.
type Lot struct {
	Name string
	Eggs int
}
