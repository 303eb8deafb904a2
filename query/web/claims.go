package web

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
	"hatchlore/query/web/sheet"
	"hatchlore/species"
)

// claimViews enters a claim beside its page, and what is decided about it.
func (s *Server) claimViews() {
	s.page("GET /claims/{id}", s.oneClaim)
	s.form("POST /claims/{id}", s.decide)
}

func claimAddress(id string) string { return "/claims/" + url.PathEscape(id) }

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

func (s *Server) oneClaim(r *http.Request) (view, error) {
	c, err := s.answers().Claim(r.Context(), r.PathValue("id"))
	if err != nil {
		return view{}, err
	}
	v := claimView{Claimed: c, Factors: evidence.Measures(), Categories: categories(),
		Bearings: []evidence.Bearing{evidence.Favours, evidence.Prevents, evidence.Indifferent, evidence.Reported}}
	for _, d := range c.History {
		v.History = append(v.History, decided{d.At.Local().Format("2006-01-02 15:04"), query.VerdictWords(d), d.Reason})
	}
	out := view{name: "claim", title: "A claim", here: "species", script: "sheet", wide: true, cautions: true}
	if c.Claim == nil {
		out.data = v
		return out, nil
	}
	v.Value, v.Printed = degreesOf(r).value(*c.Claim), c.Claim.Printed
	if v.Printed == v.Value {
		v.Printed = ""
	}
	v.Marks, v.ByHand = species.Marks(*c.Claim), c.Claim.Rule == store.HandRule
	head, err := s.shelf.Store().Listing(r.Context(), c.Claim.Paper)
	if err != nil {
		return view{}, err
	}
	if err := s.neighbours(r.Context(), &v); err != nil {
		return view{}, err
	}
	page, err := s.shelf.Store().Page(r.Context(), c.Claim.Paper, c.Claim.Page)
	if err == nil && page.How != ingest.Unread {
		at := sheet.Bytes(page.Text, c.Claim.Start, c.Claim.End)
		sh := s.sheetOf(r, head, page, []sheet.Stretch{at})
		v.Sheet = &sh
	}
	out.title = fmt.Sprintf("%s, %s: %s", c.Name, c.Claim.Factor.Label(), v.Value)
	out.invented, out.data = s.shelf.Invented(head.Hash), v
	return out, nil
}

// neighbours finds the claims before and after v's in its paper.
func (s *Server) neighbours(ctx context.Context, v *claimView) error {
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
		v.Previous = claimAddress(all[i-1].ID)
	}
	if i+1 < len(all) {
		v.Next = claimAddress(all[i+1].ID)
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
func (s *Server) decide(r *http.Request) (string, error) {
	id, err := s.shelf.Store().ClaimID(r.Context(), r.PathValue("id"))
	if err != nil {
		return "", err
	}
	d := store.Decision{Reason: strings.TrimSpace(r.PostForm.Get("reason"))}
	if len(d.Reason) > mostReason {
		return "", wrong(fmt.Sprintf("a reason has at most %d characters; shorten it", mostReason))
	}
	switch r.PostForm.Get("do") {
	case "accept":
		d.Verdict = evidence.Accepted
	case "reject":
		if d.Verdict = evidence.Rejected; d.Reason == "" {
			return "", wrong("a claim is rejected with a reason: whoever reads the history wants to know why; go back and write one")
		}
	case "undo":
		d.Verdict = evidence.Undecided
	case "amend":
		c, err := s.shelf.Store().Claim(r.Context(), id)
		if err != nil {
			return "", err
		}
		if err := amend(&c, r.PostForm); err != nil {
			return "", err
		}
		d.Verdict, d.Amended = evidence.Amended, &c
	default:
		return "", wrong("a claim is accepted, amended, rejected, or left as it was read")
	}
	c, err := s.shelf.Store().Decide(r.Context(), id, d)
	if err != nil {
		if statusOf(err) == http.StatusInternalServerError && d.Verdict == evidence.Amended {
			return "", wrong(err.Error()) // what is wrong with the claim as amended
		}
		return "", err
	}
	return claimAddress(c.ID), nil
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
		c.Cited, c.Secondhand = cited, cited != ""
	}
	if printed := form.Get("printed"); strings.TrimSpace(printed) != strings.TrimSpace(form.Get("was")) {
		if err := query.SetValue(c, printed); err != nil {
			return wrong(err.Error())
		}
		c.Implied, c.Inferred = false, false // the keeper has looked at the page
	}
	return nil
}
