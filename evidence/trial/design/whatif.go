package design

import (
	"fmt"

	"hatchlore/evidence/trial"
)

// HalfAndDouble returns the numbers of eggs that a plan is usually set between.
func (r Request) HalfAndDouble() []int {
	n := r.Eggs
	if n == 0 {
		for _, l := range r.Lots {
			n += l.Eggs
		}
	}
	return []int{max(1, n/2), 2 * n}
}

// whatIfs plans the same request with the other numbers of eggs that it asks
// about. Lots are pooled, and eggs kept back grow and shrink with the number
// unless the request says how many.
func (r Request) whatIfs() ([]trial.WhatIf, error) {
	out := []trial.WhatIf{}
	for _, n := range r.WhatIf {
		if n < 1 {
			return nil, fmt.Errorf("%d eggs are no number to plan with", n)
		}
		other := r
		other.Eggs, other.Lots, other.WhatIf = n, nil, nil
		w := trial.WhatIf{Eggs: n, Power: []trial.Power{}, Settles: []trial.Settles{}, LeftOut: []trial.LeftOut{}}
		if p, err := New(other); err != nil {
			w.Refusal = err.Error()
		} else {
			w.Treatments, w.Dishes, w.Design = len(p.Treatments()), len(p.Dishes), p.Design
			w.Power, w.Settles, w.LeftOut = p.Power, p.Settles, p.LeftOut
		}
		out = append(out, w)
	}
	return out, nil
}
