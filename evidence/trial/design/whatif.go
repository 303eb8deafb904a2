package design

import (
	"fmt"

	"hatchlore/evidence/trial"
)

// WhatIf is what another number of eggs would buy.
type WhatIf struct {
	Eggs       int             `json:"eggs"`
	Treatments int             `json:"treatments"`
	Dishes     int             `json:"dishes"`
	Design     trial.Design    `json:"design"`
	Power      []trial.Power   `json:"power"`
	Settles    []trial.Settles `json:"settles"`
	LeftOut    []trial.LeftOut `json:"left_out"`
	Refusal    string          `json:"refusal,omitempty"` // why there is no plan, "" when there is one
}

// WhatIfs plans the same request with other numbers of eggs. Lots are pooled,
// and eggs kept back grow and shrink with the number unless the request says
// how many.
func WhatIfs(req Request, eggs []int) ([]WhatIf, error) {
	var out []WhatIf
	for _, n := range eggs {
		if n < 1 {
			return nil, fmt.Errorf("%d eggs are no number to plan with", n)
		}
		r := req
		r.Eggs, r.Lots = n, nil
		w := WhatIf{Eggs: n, Power: []trial.Power{}, Settles: []trial.Settles{}, LeftOut: []trial.LeftOut{}}
		if p, err := New(r); err != nil {
			w.Refusal = err.Error()
		} else {
			w.Treatments, w.Dishes, w.Design = len(p.Treatments()), len(p.Dishes), p.Design
			w.Power, w.Settles, w.LeftOut = p.Power, p.Settles, p.LeftOut
		}
		out = append(out, w)
	}
	return out, nil
}
