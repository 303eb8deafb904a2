package trials

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"sync"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/design"
	"hatchlore/query"
	"hatchlore/query/web/address"
	"hatchlore/query/web/chart"
	"hatchlore/query/web/refuse"
	"hatchlore/query/web/trials/planform"
	"hatchlore/query/wording"
)

// offer is the plan that the form asks for, with what it costs and what can be
// hoped of it, or why there is none.
type offer struct {
	Plan       *trial.Plan
	Why        string // in one sentence; "" where there is a plan
	Treatments []wording.Treatment
	Heads      []string
	Chances    []chanceRow
	Others     []wording.Offer
	Fields     []planform.Field // to keep it with
	Promises   []string
}

// Days is how long the trial takes, first and last day included.
func (o offer) Days() int { return o.Plan.End.Since(o.Plan.Start) + 1 }

// Told says in one line what the offer comes to, for who hears the page.
func (o offer) Told() string {
	likely := 0
	for _, c := range o.Chances {
		if c.Least >= wording.Likely {
			likely++
		}
	}
	s := fmt.Sprintf("%d eggs in %s, %s", o.Plan.EggsUsed, trial.Plural(len(o.Plan.Dishes), "dish"), trial.Plural(o.Days(), "day"))
	if len(o.Chances) > 0 {
		s += fmt.Sprintf("; %d of %s more likely settled than not", likely, trial.Plural(len(o.Chances), "question"))
	}
	return s
}

// chanceRow is the chance that the counts settle one disagreement.
type chanceRow struct {
	Question   string
	Address    string
	Chance     float64
	Least      float64 // of the side that is hardest to show
	CannotShow string
}

// Width is the chance as a place on its gauge.
func (c chanceRow) Width() chart.Percent { return chart.Percent(100 * c.Chance) }

// Percent prints the chance.
func (c chanceRow) Percent() string { return fmt.Sprintf("%.0f %%", 100*c.Chance) }

// even bounds the chances about one half that say nothing either way.
const even = 0.55

// Words says what to think of the chance. The bounds are our own judgement, no
// source.
func (c chanceRow) Words() string {
	switch {
	case c.Chance >= 0.8:
		return "likely"
	case c.Chance >= even:
		return "more likely than not"
	case c.Chance > 1-even:
		return "as likely as not"
	case c.Chance >= 0.2:
		return "doubtful"
	}
	return "hardly"
}

// planner lets one plan be worked out at a time: each takes a core for about
// half a second, and a form asks anew with every figure typed.
type planner struct{ mu sync.Mutex }

// alone runs work when no other runs, unless nobody waits for it any more.
func (p *planner) alone(ctx context.Context, work func() error) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if err := ctx.Err(); err != nil {
		return err
	}
	return work()
}

// requestOf turns the form into a request that the library has filled in. A
// sentence says why it cannot be planned; the error is for what the keeper
// cannot mend.
func (s *section) requestOf(ctx context.Context, f *planform.Form) (req design.Request, assumed []string, why string, err error) {
	req = f.Request()
	settle := f.All(planform.Disagreement)
	switch {
	case f.Wrong():
		return req, nil, "something in the form cannot be read; it is marked there", nil
	case !f.EggsKnown():
		return req, nil, "say how many eggs are on hand, and the chances stand here", nil
	case len(settle) == 0 && len(req.Factors) == 0:
		return req, nil, "choose at least one disagreement, or name a factor by hand", nil
	}
	if field, err := s.drawOnLots(ctx, req.Lots); err != nil {
		f.Blame(field, err)
		return req, nil, err.Error(), nil
	}
	req.WhatIf = req.HalfAndDouble()
	assumed, err = s.Answers().FromLibrary(ctx, &req, settle)
	var unknown *query.UnknownDispute
	var nothing *query.NothingToSettle
	if errors.As(err, &unknown) || errors.As(err, &nothing) {
		return req, nil, err.Error(), nil
	}
	return req, assumed, "", err
}

// drawOnLots fills in the eggs of lots for which no number was typed. The error
// is for a lot that has not as many, in the field where they were asked for;
// clutches of one lot hold no more together than it has left.
func (s *section) drawOnLots(ctx context.Context, lots []trial.Lot) (field string, err error) {
	together := map[string]int{}
	for i, l := range lots {
		if l.Name == "" {
			continue
		}
		together[l.Name] += l.Eggs
		whole, err := s.Answers().FromLot(ctx, l.Name, together[l.Name])
		switch {
		case err != nil && l.Clutch != "":
			return planform.ClutchesOf + l.Name, err
		case err != nil:
			return planform.EggsOf + l.Name, err
		case l.Clutch == "":
			lots[i] = whole
		}
	}
	return "", nil
}

// offerOf works the plan out that the form asks for.
func (s *section) offerOf(ctx context.Context, f *planform.Form) (offer, error) {
	req, assumed, why, err := s.requestOf(ctx, f)
	if err != nil || why != "" {
		return offer{Why: why}, err
	}
	var out offer
	err = s.planner.alone(ctx, func() error {
		p, err := design.New(req)
		if err != nil {
			out.Why = err.Error()
			return nil
		}
		p.Assumed = append(p.Assumed, assumed...)
		out = offer{Plan: p, Heads: factorLabels(p), Others: wording.Offers(p), Fields: f.Fields()}
		out.Treatments, _ = wording.Treatments(p)
		return nil
	})
	if err != nil || out.Plan == nil {
		return out, err
	}
	if out.Chances, err = s.chances(ctx, out.Plan); err != nil {
		return out, err
	}
	out.Promises, err = s.promises(ctx, req.Lots, out.Plan.Trial)
	return out, err
}

// chances returns the chance of each question of a plan, in the words of the
// library's disagreement where it still stands.
func (s *section) chances(ctx context.Context, p *trial.Plan) ([]chanceRow, error) {
	asked, err := s.questions(ctx, p)
	var out []chanceRow
	for _, st := range p.Settles {
		out = append(out, chanceRow{asked[st.Conflict], address.Disagreement(p.Taxon, st.Conflict), st.Chance, st.Least(), wording.CannotShow(st)})
	}
	return out, err
}

// questions puts the questions of a plan into words, by id.
func (s *section) questions(ctx context.Context, p *trial.Plan) (map[string]string, error) {
	out := map[string]string{}
	for _, q := range p.Questions {
		out[q.ID] = wording.Question(p, q.ID)
	}
	d, err := s.Disagreements(ctx, p.Taxon)
	if refuse.Status(err) == http.StatusNotFound {
		return out, nil
	}
	for _, c := range d.Conflicts {
		if _, asked := out[c.ID]; asked {
			out[c.ID] = c.Question
		}
	}
	return out, err
}

// promises says which lots other plans will take from as well.
func (s *section) promises(ctx context.Context, lots []trial.Lot, own string) ([]string, error) {
	all, err := s.Answers().Promised(ctx)
	if err != nil {
		return nil, err
	}
	var out []string
	seen := map[string]bool{}
	for _, l := range lots {
		if seen[l.Name] {
			continue // a lot of several clutches
		}
		seen[l.Name] = true
		for _, p := range all[l.Name] {
			if p.Trial != own {
				out = append(out, fmt.Sprintf("trial %s, not counted yet, has %d eggs of lot %s in its plan", p.Trial, p.Eggs, l.Name))
			}
		}
	}
	return out, nil
}
