package design

import (
	"fmt"
	"strings"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/bench"
	"hatchlore/evidence/trial/factorial"
)

// New lays a trial out. Its errors are sentences for the keeper: what does not
// fit and what would make it fit.
func New(req Request) (*trial.Plan, error) {
	type others struct {
		list []trial.WhatIf
		err  error
	}
	other := make(chan others, 1)
	go func() {
		list, err := req.whatIfs()
		other <- others{list, err}
	}()
	p, err := req.plan()
	more := <-other
	if err == nil {
		err = more.err
	}
	if err != nil {
		return nil, err
	}
	p.WhatIf = more.list
	return p, nil
}

func (r Request) plan() (*trial.Plan, error) {
	s, err := r.settle()
	if err != nil {
		return nil, err
	}
	p, b, err := s.lay()
	if err != nil {
		return nil, err
	}
	if err := s.weigh(p); err != nil {
		return nil, err
	}
	more, err := s.caveats(p, b)
	if err != nil {
		return nil, err
	}
	p.Warnings = append(p.Warnings, more...)
	fillNil(p)
	return p, nil
}

// lay chooses the treatments and writes the dishes with their dates; power and
// warnings are still missing.
func (s *settled) lay() (*trial.Plan, dealt, error) {
	factors, fixed, out, err := s.gather()
	if err != nil {
		return nil, dealt{}, err
	}
	if err := s.refuseFactors(factors, out); err != nil {
		return nil, dealt{}, err
	}
	options, err := s.options(factors)
	if err != nil {
		return nil, dealt{}, err
	}
	best, fixed, err := s.choose(options, fixed)
	if err != nil {
		return nil, dealt{}, err
	}
	return s.write(best.layout, fixed, append(out, best.gone...))
}

func (s *settled) refuseFactors(factors []factor, out []trial.LeftOut) error {
	for _, f := range factors {
		if why := s.unholdable(f); why != "" {
			return fmt.Errorf("%s", why)
		}
	}
	if len(factors) > 0 {
		return nil
	}
	if len(out) > 0 {
		return fmt.Errorf("no question is left to try: %s: %s", out[0].Factor.Label(), out[0].Why)
	}
	return ErrNoAim
}

func (s *settled) write(lay layout, fixed []trial.Fixed, out []trial.LeftOut) (*trial.Plan, dealt, error) {
	b := s.deal(lay, fixed)
	p := s.sketch(b)
	p.Trial, p.Taxon, p.Seed = s.Trial, s.Taxon, s.Seed
	p.LeftOut, p.Cautions = out, trial.Cautions()
	noteControl(p, lay.treatments)
	if err := s.label(p); err != nil {
		return nil, b, err
	}
	more, minds, err := bench.Schedule(p, bench.Timing{Start: s.Start, Trigger: s.Trigger, Forward: s.Forward,
		Incubate: s.Incubate, LookDays: s.LookDays, Barred: s.Barred, Chambers: s.Chambers})
	if err != nil {
		return nil, b, err
	}
	p.Assumed, p.Warnings = append(s.assumed, more...), minds
	p.EggsKept = s.Eggs - p.EggsUsed
	if p.Trial == "" {
		p.Trial = trialName(s.Taxon, p.Start, s.Seed)
	}
	return p, b, nil
}

// noteControl notes in each factor what it is in the added control dishes.
func noteControl(p *trial.Plan, ts []factorial.Treatment) {
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
func fillNil(p *trial.Plan) {
	for i := range p.Factors {
		p.Factors[i].Claims = append([]string{}, p.Factors[i].Claims...)
		p.Factors[i].Conflicts = append([]string{}, p.Factors[i].Conflicts...)
	}
	p.Fixed = append([]trial.Fixed{}, p.Fixed...)
	p.Settles = append([]trial.Settles{}, p.Settles...)
	p.Questions = append([]trial.Question{}, p.Questions...)
	p.LeftOut = append([]trial.LeftOut{}, p.LeftOut...)
	p.Assumed = append([]string{}, p.Assumed...)
	p.Warnings = append([]string{}, p.Warnings...)
}

func trialName(taxon string, start trial.Day, seed uint64) string {
	words := strings.Fields(strings.ToLower(taxon))
	if len(words) == 0 {
		words = []string{"trial"}
	}
	return fmt.Sprintf("%s-%s-%d", strings.Join(words, "-"), start, seed)
}
