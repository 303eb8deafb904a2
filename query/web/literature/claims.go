package literature

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/ingest"
	"hatchlore/query"
	"hatchlore/query/web/address"
	"hatchlore/query/web/literature/sheet"
	"hatchlore/query/web/refuse"
	"hatchlore/query/web/site"
	"hatchlore/query/wording"
	"hatchlore/species/table"
)

// claimViews enters a claim beside its page, and what is decided about it.
func (s *section) claimViews() {
	s.Page("GET /claims/{id}", s.oneClaim)
	s.Form("POST /claims/{id}", s.decide)
}

// claimView is a claim as its page shows it.
type claimView struct {
	query.Claimed
	Value, Printed string
	Marks          []string
	ByHand         bool
	History        []decided
	Previous, Next string // addresses of the claims before and after it in the paper
	Place, Of      int    // which claim of the paper it is, and of how many
	Sheet          *sheetView
	Factors        []evidence.Measure
	Bearings       []evidence.Bearing
	Categories     []string // every word that may stand in place of a number
}

// decided is one decision as it is told.
type decided struct{ Day, Verdict, Reason string }

func (s *section) oneClaim(r *http.Request) (site.View, error) {
	c, err := s.Answers().Claim(r.Context(), r.PathValue("id"))
	if err != nil {
		return site.View{}, err
	}
	v := claimView{Claimed: c, Factors: evidence.Measures(), Categories: categories(),
		Bearings: []evidence.Bearing{evidence.Favours, evidence.Prevents, evidence.Indifferent, evidence.Reported}}
	for _, d := range c.History {
		v.History = append(v.History, decided{d.At.Local().Format("2006-01-02 15:04"), wording.Verdict(d), d.Reason})
	}
	out := site.View{Name: "claim", Title: "A claim", Here: "species", Script: "sheet", Wide: true, Cautions: true}
	if c.Claim == nil {
		out.Data = v
		return out, nil
	}
	v.Value, v.Printed = site.DegreesOf(r).Value(*c.Claim), c.Claim.Printed
	if v.Printed == v.Value {
		v.Printed = ""
	}
	v.Marks, v.ByHand = table.Marks(*c.Claim), c.Claim.Rule == store.HandRule
	head, err := s.Store().Listing(r.Context(), c.Claim.Paper)
	if err != nil {
		return site.View{}, err
	}
	if err := s.neighbours(r.Context(), &v); err != nil {
		return site.View{}, err
	}
	page, err := s.Store().Page(r.Context(), c.Claim.Paper, c.Claim.Page)
	if err == nil && page.How != ingest.Unread {
		at := sheet.Bytes(page.Text, c.Claim.Start, c.Claim.End)
		sh := s.sheetOf(r, head, page, []sheet.Stretch{at})
		v.Sheet = &sh
	}
	out.Title = fmt.Sprintf("%s, %s: %s", c.Name, c.Claim.Factor.Label(), v.Value)
	out.Invented, out.Data = s.Invented(head.Hash), v
	return out, nil
}

// neighbours finds the claims before and after v's in its paper.
func (s *section) neighbours(ctx context.Context, v *claimView) error {
	all, err := s.paperClaims(ctx, v.Claim.Paper)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(all, func(c evidence.Claim) bool { return c.ID == v.Claim.ID })
	if i < 0 {
		return nil
	}
	v.Place, v.Of = i+1, len(all)
	if i > 0 {
		v.Previous = address.Claim(all[i-1].ID)
	}
	if i+1 < len(all) {
		v.Next = address.Claim(all[i+1].ID)
	}
	return nil
}

// categories are the words of all factors, each once.
func categories() []string {
	var out []string
	for _, m := range evidence.Measures() {
		for _, c := range m.Categories {
			if !slices.Contains(out, c) {
				out = append(out, c)
			}
		}
	}
	return out
}

// mostReason bounds what is kept with a decision.
const mostReason = 2000

// decide keeps what a form says of a claim.
func (s *section) decide(r *http.Request) (site.Answer, error) {
	id, err := s.Store().ClaimID(r.Context(), r.PathValue("id"))
	if err != nil {
		return nil, err
	}
	d := store.Decision{Reason: strings.TrimSpace(r.PostForm.Get("reason"))}
	if len(d.Reason) > mostReason {
		return nil, refuse.Wrong(fmt.Sprintf("a reason has at most %d characters; shorten it", mostReason))
	}
	switch r.PostForm.Get("do") {
	case "accept":
		d.Verdict = evidence.Accepted
	case "reject":
		if d.Verdict = evidence.Rejected; d.Reason == "" {
			return nil, refuse.Wrong("a claim is rejected with a reason: whoever reads the history wants to know why; go back and write one")
		}
	case "undo":
		d.Verdict = evidence.Undecided
	case "amend":
		c, err := s.Store().Claim(r.Context(), id)
		if err != nil {
			return nil, err
		}
		if err := amend(&c, r.PostForm); err != nil {
			return nil, err
		}
		d.Verdict, d.Amended = evidence.Amended, &c
	default:
		return nil, refuse.Wrong("a claim is accepted, amended, rejected, or left as it was read")
	}
	c, err := s.Store().Decide(r.Context(), id, d)
	if err != nil {
		if refuse.Status(err) == http.StatusInternalServerError && d.Verdict == evidence.Amended {
			return nil, refuse.Wrong(err.Error()) // what is wrong with the claim as amended
		}
		return nil, err
	}
	return site.Place(address.Claim(c.ID)), nil
}

// amend puts into c what the form says of it. A field that was left as it was
// changes nothing: the number keeps its ends, however it was printed.
func amend(c *evidence.Claim, form url.Values) error {
	field := func(name string) string { return strings.Join(strings.Fields(form.Get(name)), " ") }
	c.Factor = evidence.Factor(field("factor"))
	c.Bearing = evidence.Bearing(field("bearing"))
	c.Category = field("category")
	c.Stage = evidence.Stage(field("stage"))
	c.Taxon = field("taxon")
	if cited := field("cited"); cited != c.CitedSource() {
		c.Cite(cited)
	}
	if printed := form.Get("printed"); strings.TrimSpace(printed) != strings.TrimSpace(form.Get("was")) {
		if err := query.SetValue(c, printed); err != nil {
			return refuse.Wrong(err.Error())
		}
		c.Implied, c.Inferred = false, false // the keeper has looked at the page
	}
	return nil
}
