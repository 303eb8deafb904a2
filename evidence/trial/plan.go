package trial

import (
	"maps"
	"slices"

	"hatchlore/evidence"
)

// Kinds of design.
const (
	FullFactorial = "full-factorial" // every combination of levels
	Fraction      = "fraction"       // a regular two-level fraction of them
	Optimal       = "d-optimal"      // the subset that tells single factors apart best
)

// Design says how the treatments were chosen.
type Design struct {
	Kind       string   `json:"kind"`       // full-factorial, fraction, d-optimal
	SplitPlot  bool     `json:"split_plot"` // a factor is set for chamber runs
	Resolution string   `json:"resolution"` // Roman numeral of a fraction, else ""
	Aliases    []string `json:"aliases"`    // what a fraction cannot tell apart, in the trade's words
	// IncompleteBlocks tells that lots or clutches are too small for every
	// treatment: each holds some of them.
	IncompleteBlocks bool `json:"incomplete_blocks,omitempty"`
}

// Step is one thing to do with a dish on one day.
type Step struct {
	Date Day    `json:"date"`
	Act  string `json:"act"` // ActSetOut, …
	Do   string `json:"do"`
}

// Dish is one dish of eggs, by number on the bench and by blind label.
type Dish struct {
	Dish    int                         `json:"dish"`
	Label   string                      `json:"label"`
	Chamber string                      `json:"chamber"`
	Run     int                         `json:"run"`
	Levels  map[evidence.Factor]Setting `json:"levels"`
	Control bool                        `json:"control"`
	Eggs    int                         `json:"eggs"`
	Lot     string                      `json:"lot"`
	Clutch  string                      `json:"clutch,omitempty"`
	Steps   []Step                      `json:"steps"`
}

// Plan is a trial laid out.
type Plan struct {
	Trial     string     `json:"trial"`
	Taxon     string     `json:"taxon"`
	Seed      uint64     `json:"seed"`
	Design    Design     `json:"design"`
	Factors   []Factor   `json:"factors"`
	Fixed     []Fixed    `json:"fixed"`
	Runs      []Run      `json:"runs"`
	Dishes    []Dish     `json:"dishes"`
	EggsUsed  int        `json:"eggs_used"`
	EggsKept  int        `json:"eggs_kept"`
	Start     Day        `json:"start"`
	Trigger   Day        `json:"trigger"`
	End       Day        `json:"end"`
	Questions []Question `json:"questions"` // those that the trial takes up
	Odds      Odds       `json:"odds"`
	Power     []Power    `json:"power"`
	Settles   []Settles  `json:"settles"`
	WhatIf    []WhatIf   `json:"what_if"` // what other numbers of eggs would buy
	LeftOut   []LeftOut  `json:"left_out"`
	Assumed   []string   `json:"assumed"`
	Warnings  []string   `json:"warnings"`
	Cautions  []string   `json:"cautions"`
}

// Odds are the suppositions under which a plan's power holds.
type Odds struct {
	BaseFraction float64 `json:"base_fraction"`
	Rho          float64 `json:"rho"` // correlation of eggs within a dish
	Difference   float64 `json:"difference"`
}

// Run is one chamber standing at one temperature for the length of the trial:
// the unit in which a chamber temperature is tested.
type Run struct {
	Run         int     `json:"run"`
	Chamber     string  `json:"chamber"`
	Temperature float64 `json:"temperature"`          // degC, of incubation
	Batch       int     `json:"batch"`                // batches follow one another
	Trigger     Day     `json:"trigger"`              // of its first dish
	Cold        string  `json:"cold_place,omitempty"` // of its cold-moist period, where the plan says it
}

// Power is the chance that a difference of the stated size between two levels
// of a factor is found, at the 5 % level, in the right direction. It is
// simulated with dishes that differ.
type Power struct {
	Factor     evidence.Factor `json:"factor"`
	From       Setting         `json:"from"`
	To         Setting         `json:"to"`
	Difference float64         `json:"difference"` // of the hatched fraction
	Power      float64         `json:"power"`
	Untestable bool            `json:"untestable,omitempty"` // the layout has nothing to test it by, see [Plan.Testable]; its power is 0
}

// Settles is the chance that the counts give the right side of a conflict its due:
// the mean over the sides of the chance that a side is called supported when it
// is right.
type Settles struct {
	Conflict string       `json:"conflict"`
	Chance   float64      `json:"chance"`
	Sides    []SideChance `json:"sides,omitempty"`
}

// SideChance is the chance that one side is called supported when it is right.
type SideChance struct {
	Side   string  `json:"side"` // in the words of its verdict
	Number int     `json:"number"`
	Chance float64 `json:"chance"`
}

// Least is the chance of the side that has the least: what can be counted on before
// anybody knows which side is right.
func (s Settles) Least() float64 {
	least := s.Chance
	for _, side := range s.Sides {
		least = min(least, side.Chance)
	}
	return least
}

// WhatIf is what another number of eggs would buy.
type WhatIf struct {
	Eggs       int       `json:"eggs"`
	Treatments int       `json:"treatments"`
	Dishes     int       `json:"dishes"`
	Design     Design    `json:"design"`
	Power      []Power   `json:"power"`
	Settles    []Settles `json:"settles"`
	LeftOut    []LeftOut `json:"left_out"`
	Refusal    string    `json:"refusal,omitempty"` // why there is no plan, "" when there is one
}

// LeftOut is a question or factor that the trial does not take up.
type LeftOut struct {
	Factor   evidence.Factor `json:"factor"`
	Conflict string          `json:"conflict"`
	Why      string          `json:"why"`
}

// TreatmentRow is one line of the treatment table.
type TreatmentRow struct {
	Levels  map[evidence.Factor]Setting `json:"levels"`
	Control bool                        `json:"control"`
	Dishes  int                         `json:"dishes"`
	Eggs    int                         `json:"eggs"`
}

// Treatments returns the treatment table: each combination of settings with its
// dishes and eggs, in the order of the factors' levels, the added control last.
func (p *Plan) Treatments() []TreatmentRow {
	var rows []TreatmentRow
	for _, d := range p.Dishes {
		i := slices.IndexFunc(rows, func(r TreatmentRow) bool { return r.Control == d.Control && maps.Equal(r.Levels, d.Levels) })
		if i < 0 {
			rows = append(rows, TreatmentRow{Levels: d.Levels, Control: d.Control})
			i = len(rows) - 1
		}
		rows[i].Dishes++
		rows[i].Eggs += d.Eggs
	}
	slices.SortStableFunc(rows, func(a, b TreatmentRow) int {
		if a.Control != b.Control {
			if b.Control {
				return -1
			}
			return 1
		}
		for _, f := range p.Factors {
			if c := slices.Index(f.Levels, a.Levels[f.ID]) - slices.Index(f.Levels, b.Levels[f.ID]); c != 0 {
				return c
			}
		}
		return 0
	})
	return rows
}
