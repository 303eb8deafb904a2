package conflict

import (
	"cmp"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/species/fulltext"
)

// Passage is what one place of a paper says on a side: one sentence or row of a
// table, however many claims were read there.
type Passage struct {
	Citation   string
	Paper      string
	Page       int
	Values     []string // of its claims
	Words      string
	Table      bool // Words are a table's, told with its heads
	Stage      evidence.Stage
	Secondhand bool
	Cited      string
	Claims     []string
}

// Passages returns the places that stand on a side, paper by paper: first the
// papers with findings of their own, then those that cite; of each paper first
// its own sentences, then rows of tables, then scraps, then what it cites, since a
// keeper reads the first.
func (s Side) Passages() []Passage {
	var out []Passage
	for _, say := range s.Says {
		words := cmp.Or(say.Words, say.Quote)
		i := slices.IndexFunc(out, func(p Passage) bool {
			return p.Paper == say.Paper && p.Page == say.Page && p.Words == words && p.Secondhand == say.Secondhand && p.Stage == say.Stage
		})
		if i < 0 {
			i = len(out)
			out = append(out, Passage{Citation: say.Citation, Paper: say.Paper, Page: say.Page, Words: words, Table: say.Table,
				Stage: say.Stage, Secondhand: say.Secondhand, Cited: say.Cited})
		}
		out[i].Claims = append(out[i].Claims, say.Claim)
		if !slices.Contains(out[i].Values, say.Value) {
			out[i].Values = append(out[i].Values, say.Value)
		}
	}
	own := map[string]int{}
	for _, p := range out {
		if !p.Secondhand {
			own[p.Paper] = 1
		}
	}
	slices.SortStableFunc(out, func(a, b Passage) int {
		return cmp.Or(own[b.Paper]-own[a.Paper], strings.Compare(a.Paper, b.Paper), a.weakness()-b.weakness())
	})
	return out
}

// weakness is less the better a passage speaks for its side: a paper's own words
// before those that cite, what reads by itself before what does not.
func (p Passage) weakness() int {
	switch {
	case p.Secondhand:
		return 3
	case p.Table:
		return 1
	case len(strings.Fields(p.Words)) < fulltext.LeastWords:
		return 2
	}
	return 0
}
