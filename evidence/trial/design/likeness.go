package design

// Likeness is what the dishes of a finished trial showed of how alike eggs of one
// dish are.
type Likeness struct {
	Rho         float64 // correlation within dishes
	DF          int     // degrees of freedom behind it
	EggsPerDish float64
}

// doubt is how far, as a standard deviation, the usual likeness may be off for
// any one species (a judgement, no source).
const doubt = 0.05

// Together returns the likeness to plan with after trials that showed these:
// their mean and the usual middling value, each with the weight of its
// precision. One trial of few dishes tells so little that dishes which happened to
// agree would else promise a power that the next trial does not have.
func Together(seen []Likeness) float64 {
	weight := 1 / (doubt * doubt)
	sum, weights := weight*defaultRho, weight
	for _, l := range seen {
		w := l.precision()
		sum, weights = sum+w*min(max(l.Rho, 0), 1), weights+w
	}
	return sum / weights
}

// precision is one over the variance of an intraclass correlation from groups of
// m: 2(1-ρ)²(1+(m-1)ρ)²/(m(m-1)·df) (Fisher 1925, from memory; of counts it holds
// roughly), at the usual ρ, so that a figure does not weigh more for being small.
func (l Likeness) precision() float64 {
	m := l.EggsPerDish
	if m <= 1 || l.DF < 1 {
		return 0
	}
	root := (1 - defaultRho) * (1 + (m-1)*defaultRho)
	return m * (m - 1) * float64(l.DF) / (2 * root * root)
}
