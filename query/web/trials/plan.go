package trials

import (
	"context"
	"errors"
	"net/http"
	"slices"
	"strings"

	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/design"
	"hatchlore/query"
	"hatchlore/query/web/address"
	"hatchlore/query/web/guard"
	"hatchlore/query/web/site"
	"hatchlore/query/web/trials/planform"
	"hatchlore/query/web/words"
	"hatchlore/query/wording"
	"hatchlore/species/conflict"
	"hatchlore/species/taxonomy"
)

// planViews enters the form on which a trial is asked for.
func (s *section) planViews() {
	s.Page("GET "+address.Plan, s.planForm)
	s.Form("POST /trials", s.keepPlan)
}

// planPage is the form with all that can be chosen on it.
type planPage struct {
	Form          *planform.Form
	Taxa          []string
	Unknown       bool     // no paper of the library tells of the taxon
	Near          []string // names that may have been meant then
	Disagreements []disagreementChoice
	Lots          []lotChoice
	Weekdays      []string
	Offer         offer
}

type disagreementChoice struct {
	ID, Question string
	Kind         string
	Settable     bool // a keeper can set the factor
}

type lotChoice struct {
	store.Lot
	Field    string // with the eggs to take of it
	Clutches string // field with its clutches
	Promised int    // eggs that plans not yet counted will take
}

func (s *section) planForm(r *http.Request) (site.View, error) {
	f := planform.Read(r.URL.Query(), s.Today())
	page, err := s.planChoices(r.Context(), f)
	if err != nil {
		return site.View{}, err
	}
	if f.Get(planform.Taxon) != "" {
		if page.Offer, err = s.offerOf(r.Context(), f); err != nil {
			return site.View{}, err
		}
	}
	return site.View{Name: "trial-form", Title: "Plan a trial", Here: "trials", Script: "plan", Cautions: true,
		Invented: s.InventedNote(f.Get(planform.Taxon)) != "", Data: page}, nil
}

// planChoices fills in what there is to choose from; on a form not yet sent,
// every disagreement that can be tried and every lot of the taxon is chosen.
func (s *section) planChoices(ctx context.Context, f *planform.Form) (*planPage, error) {
	page := &planPage{Form: f, Weekdays: []string{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"}}
	var err error
	if page.Taxa, err = s.Taxa(ctx); err != nil {
		return nil, err
	}
	taxon := f.Get(planform.Taxon)
	if taxon == "" {
		return page, nil
	}
	d, err := s.Disagreements(ctx, taxon)
	var unknown *taxonomy.Unknown
	switch {
	case errors.As(err, &unknown): // eggs of what no paper speaks of: factors by hand
		d, page.Unknown, page.Near = query.Disputes{Taxon: taxon}, true, unknown.Near
	case err != nil:
		return nil, err
	}
	all := f.Fresh() && len(f.All(planform.Disagreement)) == 0
	for _, c := range d.Conflicts {
		choice := disagreementChoice{ID: c.ID, Question: words.Capitalised(c.Question), Kind: wording.Kinds[c.Kind], Settable: len(query.Questions([]conflict.Conflict{c})) > 0}
		if all && choice.Settable {
			f.Choose(planform.Disagreement, c.ID)
		}
		page.Disagreements = append(page.Disagreements, choice)
	}
	return page, s.lotChoices(ctx, f, page, d.Taxon)
}

func (s *section) lotChoices(ctx context.Context, f *planform.Form, page *planPage, taxon string) error {
	lots, err := s.Store().Lots(ctx)
	if err != nil {
		return err
	}
	promised, err := s.Answers().Promised(ctx)
	if err != nil {
		return err
	}
	for _, l := range lots {
		if !strings.EqualFold(l.Taxon, taxon) || l.Left < 1 {
			continue
		}
		if f.Fresh() {
			f.Choose(planform.Lot, l.Name)
		}
		c := lotChoice{Lot: l, Field: planform.EggsOf + l.Name, Clutches: planform.ClutchesOf + l.Name}
		for _, p := range promised[l.Name] {
			c.Promised += p.Eggs
		}
		page.Lots = append(page.Lots, c)
	}
	return nil
}

// keepPlan keeps the plan that the form asks for. One that cannot be planned
// leads back to the form, which says why.
func (s *section) keepPlan(r *http.Request) (site.Answer, error) {
	r.PostForm.Del(guard.TokenField)
	f := planform.Read(r.PostForm, s.Today())
	req, assumed, why, err := s.requestOf(r.Context(), f)
	if err != nil {
		return nil, err
	}
	back := site.Place(address.Plan + "?" + r.PostForm.Encode())
	if why != "" {
		return back, nil
	}
	var p *trial.Plan
	err = s.planner.alone(r.Context(), func() error {
		p, err = design.New(req)
		return err
	})
	if err != nil {
		return back, nil // where the same sentence stands beside what was typed
	}
	p.Assumed = append(p.Assumed, assumed...)
	if note := s.InventedNote(p.Taxon); note != "" {
		p.Cautions = slices.Insert(p.Cautions, 0, note)
	}
	id, err := s.Store().KeepTrial(r.Context(), p)
	if err != nil {
		return nil, err
	}
	return site.Place(address.Trial(id)), nil
}

// trialPlanPage is the plan of a trial that is kept.
type trialPlanPage struct {
	Treatments []wording.Treatment
	Others     []wording.Offer // nil where the plan was not weighed up with other numbers of eggs
	Heads      []string
	Chances    []chanceRow
	Design     string
	Promises   []string
}

func (s *section) planData(r *http.Request, t store.Trial) (any, error) {
	p := t.Plan
	out := trialPlanPage{Heads: factorLabels(p), Design: wording.Design(p.Design)}
	out.Treatments, _ = wording.Treatments(p)
	if len(p.WhatIf) > 0 {
		out.Others = wording.Offers(p)
	}
	var err error
	if out.Chances, err = s.chances(r.Context(), p); err != nil || t.Counts != nil {
		return out, err
	}
	var lots []trial.Lot
	for _, name := range p.Lots() {
		lots = append(lots, trial.Lot{Name: name})
	}
	out.Promises, err = s.promises(r.Context(), lots, p.Trial)
	return out, err
}
