package sheet

import (
	"math"

	"hatchlore/ingest/line"
)

// Short reports whether the line ends before the column does, by more than
// justified lines do.
func (p *Sheet) Short(s *line.Strip) bool { return s.X1 < p.RightEdge(s)-1.5*s.Size }

// Centred reports whether a line stands in the middle of its column, far from
// either edge: a heading above text that fills its lines.
func (p *Sheet) Centred(s *line.Strip) bool {
	left, right := s.X0-p.leftEdge(s), p.RightEdge(s)-s.X1
	return min(left, right) > farIndent*s.Size && math.Abs(left-right) < 2*s.Size
}

// farIndent is how far from its column's edges, in sizes, a line stands that is
// set in the middle.
const farIndent = 6.0

// leftEdge returns where lines of the strip's column usually begin.
func (p *Sheet) leftEdge(s *line.Strip) float64 {
	starts := map[int]int{}
	for _, o := range p.Strips {
		if !o.Sideways && o.X1 > s.X0 && o.X0 < s.X1 && p.Column(o) == p.Column(s) {
			starts[int(o.X0/3)]++
		}
	}
	return 3 * float64(line.Commonest(starts))
}

// RightEdge returns where lines of the strip's column usually end.
func (p *Sheet) RightEdge(s *line.Strip) float64 {
	ends := map[int]int{}
	for _, o := range p.Strips {
		if !o.Sideways && o.X1 > s.X0+10 && o.X0 < s.X1 && p.Column(o) == p.Column(s) {
			ends[int(o.X1/3)]++
		}
	}
	return 3 * float64(line.Commonest(ends)+1)
}
