package literature

import (
	"cmp"
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"unicode/utf8"

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
	Steps          steps // to the claims before and after it in the paper
	Sheet          *sheetView
	Form           claimForm
	Factors        []evidence.Measure
	Bearings       []evidence.Bearing
	Categories     []string // every word that may stand in place of a number
	invented       bool
}

// Last is the decision made last, nil for none.
func (v claimView) Last() *decided {
	if len(v.History) == 0 {
		return nil
	}
	return &v.History[len(v.History)-1]
}

// decided is one decision as it is told.
type decided struct{ Day, Verdict, Reason string }

// claimForm is what stands in the fields of the form: what the claim says, or
// what was typed and cannot be.
type claimForm struct {
	Reason, Printed, Taxon, Cited string
	Factor                        evidence.Factor
	Bearing                       evidence.Bearing
	Category                      string
	Stage                         evidence.Stage
	Problem                       string // in one sentence; "" for none
	Open                          bool   // the fields of an amendment are shown
}

func formOf(c evidence.Claim) claimForm {
	return claimForm{Printed: c.Printed, Taxon: c.Taxon, Cited: c.CitedSource(), Factor: c.Factor, Bearing: c.Bearing, Category: c.Category, Stage: c.Stage}
}

// typed is the form as it was sent, with what is wrong with it.
func typed(form url.Values, problem error) claimForm {
	return claimForm{Reason: form.Get("reason"), Printed: form.Get("printed"), Taxon: form.Get("taxon"), Cited: form.Get("cited"),
		Factor: evidence.Factor(form.Get("factor")), Bearing: evidence.Bearing(form.Get("bearing")), Category: form.Get("category"),
		Stage: evidence.Stage(form.Get("stage")), Problem: problem.Error(), Open: form.Get("do") == "amend"}
}

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
	if err := s.readClaim(r, &v); err != nil {
		return site.View{}, err
	}
	out.Title = fmt.Sprintf("%s, %s: %s", cmp.Or(c.Name, noSpecies), c.Claim.Factor.Label(), v.Value)
	out.Invented, out.Data = v.invented, v
	return out, nil
}

// noSpecies stands in place of the name of a claim that has none.
const noSpecies = "no single species"

// readClaim fills in what is shown of a claim that stands on a page.
func (s *section) readClaim(r *http.Request, v *claimView) error {
	c := *v.Claim
	v.Form = formOf(c)
	v.Value, v.Printed = site.DegreesOf(r).Value(c), c.Printed
	if v.Printed == v.Value {
		v.Printed = ""
	}
	v.Marks, v.ByHand = table.Marks(c), c.Rule == store.HandRule
	head, err := s.Store().Listing(r.Context(), c.Paper)
	if err != nil {
		return err
	}
	v.invented = s.Invented(head.Hash)
	page, err := s.Store().Page(r.Context(), c.Paper, c.Page)
	if err == nil && page.How != ingest.Unread {
		at := sheet.Bytes(page.Text, c.Start, c.End)
		sh := s.sheetOf(r, head, page, []sheet.Stretch{at})
		v.Sheet = &sh
	}
	return s.neighbours(r.Context(), v)
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
	at := func(i int) string { return address.Claim(all[i].ID) }
	v.Steps = steps{step(i-1, len(all), at), step(i+1, len(all), at), fmt.Sprintf("%d of %d", i+1, len(all)), "Claims of this paper"}
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

var errTooLong = refuse.Wrong(fmt.Sprintf("a reason has at most %d characters; shorten it", mostReason))

// tooLong counts as the form does: characters, a line's end as one.
func tooLong(reason string) bool {
	return utf8.RuneCountInString(strings.ReplaceAll(reason, "\r\n", "\n")) > mostReason
}

// decide keeps what a form says of a claim. What cannot be is said beside what
// was typed.
func (s *section) decide(r *http.Request) (site.Answer, error) {
	id, err := s.Store().ClaimID(r.Context(), r.PathValue("id"))
	if err != nil {
		return nil, err
	}
	d, err := s.decisionOf(r, id)
	var c evidence.Claim
	if err == nil {
		c, err = s.Store().Decide(r.Context(), id, d)
		if err != nil && refuse.Status(err) == http.StatusInternalServerError && d.Verdict == evidence.Amended {
			err = refuse.Wrong(err.Error()) // what is wrong with the claim as amended
		}
	}
	switch {
	case err == nil:
		return site.Place(address.Claim(c.ID) + "#decided"), nil
	case refuse.Status(err) != http.StatusBadRequest:
		return nil, err
	}
	v, failed := s.oneClaim(r)
	if page, ok := v.Data.(claimView); ok {
		page.Form = typed(r.PostForm, err)
		v.Data = page
	}
	v.Status = http.StatusUnprocessableEntity
	return v, failed
}

// decisionOf reads a decision from the form.
func (s *section) decisionOf(r *http.Request, id string) (store.Decision, error) {
	d := store.Decision{Reason: strings.TrimSpace(r.PostForm.Get("reason"))}
	if tooLong(d.Reason) {
		return d, errTooLong
	}
	switch r.PostForm.Get("do") {
	case "accept":
		d.Verdict = evidence.Accepted
	case "reject":
		if d.Verdict = evidence.Rejected; d.Reason == "" {
			return d, refuse.Wrong("a claim is rejected with a reason, for whoever reads the history wants to know why")
		}
	case "undo":
		d.Verdict = evidence.Undecided
	case "amend":
		c, err := s.Store().Claim(r.Context(), id)
		if err != nil {
			return d, err
		}
		if err := amend(&c, r.PostForm); err != nil {
			return d, err
		}
		d.Verdict, d.Amended = evidence.Amended, &c
	default:
		return d, refuse.Wrong("a claim is accepted, amended, rejected, or left as it was read")
	}
	return d, nil
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
