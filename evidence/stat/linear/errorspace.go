package linear

import (
	"fmt"
	"math"
)

// An ErrorSpace is what is left of the dishes after a linear model: the
// directions in which they differ for no reason that the model knows. It is
// built once for a layout and then used for many simulated outcomes.
type ErrorSpace struct {
	dishes int
	basis  [][]float64 // orthonormal, spans the model
}

// NewErrorSpace takes the columns of a model matrix, one value a dish. Columns
// that depend on earlier ones are passed over, so a redundant coding does no
// harm. It refuses columns of different lengths.
func NewErrorSpace(columns [][]float64) (*ErrorSpace, error) {
	if len(columns) == 0 || len(columns[0]) == 0 {
		return nil, fmt.Errorf("a model needs at least one column and one dish")
	}
	s := &ErrorSpace{dishes: len(columns[0])}
	for i, c := range columns {
		if len(c) != s.dishes {
			return nil, fmt.Errorf("column %d of the model has %d dishes, the first has %d", i+1, len(c), s.dishes)
		}
		s.Add(c)
	}
	return s, nil
}

// Add takes a further column into the model; independent is false where it
// depends on earlier ones and adds nothing. It orthogonalises c against the
// basis twice, since once loses digits when c is nearly dependent.
func (s *ErrorSpace) Add(c []float64) (independent bool) {
	v := append([]float64(nil), c...)
	size := math.Sqrt(Dot(v, v))
	for range 2 {
		for _, b := range s.basis {
			k := Dot(v, b)
			for i := range v {
				v[i] -= k * b[i]
			}
		}
	}
	left := math.Sqrt(Dot(v, v))
	if left <= 1e-9*size || left == 0 {
		return false
	}
	for i := range v {
		v[i] /= left
	}
	s.basis = append(s.basis, v)
	return true
}

// Rank returns the number of independent columns.
func (s *ErrorSpace) Rank() int { return len(s.basis) }

// DF returns the degrees of freedom left for error.
func (s *ErrorSpace) DF() int { return s.dishes - len(s.basis) }

// RSS returns the sum of squares of y that the model does not explain. It
// panics when y has another length than the model's columns.
func (s *ErrorSpace) RSS(y []float64) float64 {
	if len(y) != s.dishes {
		panic("linear: outcome and model differ in length")
	}
	rss := Dot(y, y)
	for _, b := range s.basis {
		k := Dot(y, b)
		rss -= k * k
	}
	return math.Max(rss, 0)
}

// T returns the t statistic, on DF degrees of freedom, of the contrast that
// weights y by w. Without any spread it is 0 for no difference and infinite
// otherwise.
func (s *ErrorSpace) T(w, y []float64) float64 {
	d := Dot(w, y)
	se := math.Sqrt(s.RSS(y) / float64(s.DF()) * Dot(w, w))
	if se < 1e-12 {
		if math.Abs(d) < 1e-12 {
			return 0
		}
		return math.Inf(int(math.Copysign(1, d)))
	}
	return d / se
}
