package trial

import (
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
)

// Kinds of design.
const (
	fullFactorialKind = "full-factorial" // every combination of levels
	regularFraction   = "fraction"       // a regular two-level fraction of them
	optimalSubset     = "d-optimal"      // the subset that tells single factors apart best
)

// Design says how the treatments were chosen.
type Design struct {
	Kind       string   `json:"kind"`       // full-factorial, fraction, d-optimal
	SplitPlot  bool     `json:"split_plot"` // a factor is set for chamber runs
	Resolution string   `json:"resolution"` // Roman numeral of a fraction, else ""
	Aliases    []string `json:"aliases"`    // what a fraction cannot tell apart, in the trade's words
}

// Step is one thing to do with a dish on one day.
type Step struct {
	Date Day    `json:"date"`
	Act  string `json:"act"` // set-out, store, dry, freeze, chill, move, wet, trigger, look
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

// New lays a trial out. Its errors are sentences for the keeper: what does not
// fit and what would make it fit.
func New(req Request) (*Plan, error) {
	s, err := req.settle()
	if err != nil {
		return nil, err
	}
	p, b, err := s.lay()
	if err != nil {
		return nil, err
	}
	if err := s.weigh(p, b); err != nil {
		return nil, err
	}
	if p.Warnings, err = s.warnings(p, b); err != nil {
		return nil, err
	}
	p.fillNil()
	return p, nil
}

// lay chooses the treatments and writes the dishes with their dates; power and
// warnings are still missing.
func (s *settled) lay() (*Plan, bench, error) {
	factors, fixed, out, err := s.gather()
	if err != nil {
		return nil, bench{}, err
	}
	if err := s.refuseFactors(factors, out); err != nil {
		return nil, bench{}, err
	}
	options, err := s.options(factors)
	if err != nil {
		return nil, bench{}, err
	}
	best, fixed, err := s.choose(options, fixed)
	if err != nil {
		return nil, bench{}, err
	}
	return s.write(best.layout, fixed, append(out, best.gone...))
}

func (s *settled) refuseFactors(factors []Factor, out []LeftOut) error {
	for _, f := range factors {
		if why := s.unholdable(f); why != "" {
			return fmt.Errorf("%s", why)
		}
	}
	if len(factors) > 0 {
		return nil
	}
	if len(out) > 0 {
		return fmt.Errorf("no question is left to try: %s", out[0].Why)
	}
	return fmt.Errorf("nothing to try: name a factor with its levels, such as --factor drying=0,14")
}

func (s *settled) write(lay layout, fixed []Fixed, out []LeftOut) (*Plan, bench, error) {
	b := s.bench(lay, fixed)
	p := &Plan{
		Trial: s.Trial, Taxon: s.Taxon, Seed: s.Seed, Design: lay.design,
		Factors: lay.factors, Fixed: fixed, Runs: b.runs,
		LeftOut: out, Cautions: Cautions(),
		Odds: Odds{s.BaseFraction, s.rho, s.Difference},
	}
	p.control(lay.treatments)
	if err := s.dishes(p, b); err != nil {
		return nil, b, err
	}
	if err := s.schedule(p, b); err != nil {
		return nil, b, err
	}
	p.Assumed = s.assumed
	p.EggsKept = s.Eggs - p.EggsUsed
	if p.Trial == "" {
		p.Trial = trialName(s.Taxon, p.Start, s.Seed)
	}
	return p, b, nil
}

// control notes in each factor what it is in the added control dishes.
func (p *Plan) control(ts []Treatment) {
	p.Factors = slices.Clone(p.Factors)
	for _, t := range ts {
		if !t.Control {
			continue
		}
		for i, f := range p.Factors {
			if !f.WholePlot {
				set := t.Settings[i]
				p.Factors[i].Control = &set
			}
		}
		return
	}
}

// fillNil makes empty lists print as [] rather than null.
func (p *Plan) fillNil() {
	for i := range p.Factors {
		p.Factors[i].Claims = append([]string{}, p.Factors[i].Claims...)
		p.Factors[i].Conflicts = append([]string{}, p.Factors[i].Conflicts...)
	}
	p.Fixed = append([]Fixed{}, p.Fixed...)
	p.Settles = append([]Settles{}, p.Settles...)
	p.Questions = append([]Question{}, p.Questions...)
	p.LeftOut = append([]LeftOut{}, p.LeftOut...)
	p.Assumed = append([]string{}, p.Assumed...)
	p.Warnings = append([]string{}, p.Warnings...)
}

func trialName(taxon string, start Day, seed uint64) string {
	words := strings.Fields(strings.ToLower(taxon))
	if len(words) == 0 {
		words = []string{"trial"}
	}
	return fmt.Sprintf("%s-%s-%d", strings.Join(words, "-"), start, seed)
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
		i := slices.IndexFunc(rows, func(r TreatmentRow) bool { return r.Control == d.Control && sameLevels(r.Levels, d.Levels) })
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

func sameLevels(a, b map[evidence.Factor]Setting) bool {
	for f, s := range a {
		if b[f] != s {
			return false
		}
	}
	return len(a) == len(b)
}
