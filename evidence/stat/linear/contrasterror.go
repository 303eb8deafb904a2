package linear

import "math"

// A ContrastError measures chance in one contrast by the residuals of the dishes
// that have a weight in it, each with its own variance: dishes of treatments in
// which nothing hatches do not differ, and taken together with the others they
// would make those look surer than they are.
//
// It is the heteroscedasticity-consistent variance HC2 (MacKinnon and White 1985,
// Journal of Econometrics 29:305) with the degrees of freedom of Bell and McCaffrey
// (2002, Survey Methodology 28:169). With equal variances and as many dishes in
// each treatment it is the usual one of the treatments concerned.
type ContrastError struct {
	terms []residual
	df    float64
}

// residual is that of one dish as a sum over dishes, with the factor on its square.
type residual struct {
	dish   int
	factor float64
	dishes []int
	parts  []float64
}

// tiny is what is left of a number that stands for 0.
const tiny = 1e-9

// ContrastError prepares the error of the contrast that weights outcomes by w. ok is
// false where a weighted dish has a parameter of its own, so that its variance does
// not show, and where w is nothing.
func (s *ErrorSpace) ContrastError(w []float64) (e *ContrastError, ok bool) {
	e = &ContrastError{}
	var rows [][]float64
	var sum float64
	for k, weight := range w {
		if math.Abs(weight) < tiny {
			continue
		}
		row := s.residualRow(k)
		left := row[k] // one less the leverage
		if left < tiny {
			return nil, false
		}
		term := residual{dish: k, factor: weight * weight / left}
		for i, v := range row {
			if math.Abs(v) > tiny {
				term.dishes, term.parts = append(term.dishes, i), append(term.parts, v)
			}
		}
		e.terms, rows, sum = append(e.terms, term), append(rows, row), sum+weight*weight
	}
	var squares float64
	for i, a := range e.terms {
		for _, b := range e.terms {
			m := rows[i][b.dish]
			squares += a.factor * b.factor * m * m
		}
	}
	if squares == 0 {
		return nil, false
	}
	e.df = sum * sum / squares
	return e, true
}

// residualRow is the residual of dish k as weights on all outcomes.
func (s *ErrorSpace) residualRow(k int) []float64 {
	row := make([]float64, s.dishes)
	row[k] = 1
	for _, b := range s.basis {
		for i := range row {
			row[i] -= b[k] * b[i]
		}
	}
	return row
}

// DF returns the degrees of freedom, exact where the dishes have one variance.
func (e *ContrastError) DF() float64 { return e.df }

// Variance returns the variance of the contrast of y.
func (e *ContrastError) Variance(y []float64) float64 {
	var v float64
	for _, t := range e.terms {
		var r float64
		for i, k := range t.dishes {
			r += t.parts[i] * y[k]
		}
		v += t.factor * r * r
	}
	return v
}
