// Package trials is what the local page shows of trials: the form that plans
// one, its calendar and sheets, counts at the bench, the result, and the lots of
// eggs that trials draw on.
//
// It refuses to tell whoever counts what was done to a dish, to show a result as
// one while dishes wait for their last look, and to record a count that no dish
// of the plan can have.
package trials

import (
	"embed"
	"fmt"
	"html/template"
	"net/http"
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/outcome"
	"hatchlore/query"
	"hatchlore/query/web/address"
	"hatchlore/query/web/site"
	"hatchlore/query/web/trials/countform"
	"hatchlore/query/web/words"
	"hatchlore/query/wording"
)

//go:embed templates/*.html
var templates embed.FS

// section is the views of this package.
type section struct {
	*site.Site
	planner planner
}

// Enter enters the views into a site.
func Enter(at *site.Site) error {
	s := &section{Site: at}
	s.Tab("trials", address.Trials, "Trials")
	s.Page("GET /trials", s.trialList)
	s.planViews()
	s.Page("GET /trials/{id}", s.trialView("trial", "Plan", s.planData))
	s.Page("GET /trials/{id}/dishes", s.trialView("trial-dishes", "Which dish is which", dishesData))
	s.Page("GET /trials/{id}/calendar", s.trialView("trial-calendar", "Calendar", s.calendarData))
	s.Page("GET /trials/{id}/looks", s.trialView("trial-looks", "Looks", looksData))
	s.Page("GET /trials/{id}/result", s.trialView("trial-result", "Result", s.resultData))
	s.countViews()
	s.benchFiles()
	s.Form("POST /trials/{id}/close", s.closeTrial)
	s.Form("POST /trials/{id}/drop", s.dropTrial)
	s.lotViews()
	return s.Templates(templates, funcs)
}

// funcs are what the templates of these views may call.
var funcs = template.FuncMap{
	"share":    share,
	"label":    func(f string) string { return evidence.Factor(f).Label() },
	"mesh":     func(um *float64) string { return quantity.Format(*um, "um") },
	"figure":   figure,
	"likeness": func(rho outcome.Figure) string { return wording.Likeness(float64(rho)) },
	"design":   wording.Design,
	"written":  countform.Written,
}

// share prints a part of a whole in per cent.
func share(part float64) string { return fmt.Sprintf("%.0f %%", 100*part) }

// figure prints a number that may be missing.
func figure(format string, f outcome.Figure) string {
	if !f.Known() {
		return "–"
	}
	return fmt.Sprintf(format, float64(f))
}

// trialRow is a trial in the list, with the dishes that wait to be looked at.
type trialRow struct {
	query.TrialLine
	Due int
}

func (s *section) trialList(r *http.Request) (site.View, error) {
	lines, err := s.Answers().Trials(r.Context())
	if err != nil {
		return site.View{}, err
	}
	var rows []trialRow
	invented := false
	for _, l := range lines {
		row := trialRow{TrialLine: l}
		invented = invented || s.InventedNote(l.Taxon) != ""
		if l.State != query.Finished {
			t, err := s.Store().Trial(r.Context(), l.Trial)
			if err != nil {
				return site.View{}, err
			}
			row.Due = len(counts.DueOn(t.Plan, t.Counts, s.Today()))
		}
		rows = append(rows, row)
	}
	return site.View{Name: "trials", Title: "Trials", Here: "trials", Cautions: true, Invented: invented, Data: rows}, nil
}

// trialPage is what the views of one trial share.
type trialPage struct {
	Plan     *trial.Plan
	Head     string // of this part
	Part     string // template of this part, for the ways to the others
	Closed   bool
	Counted  bool
	Progress counts.Progress
	Of       any
}

// way leads to a part of a trial.
type way struct {
	At, Name string
	Here     bool
}

// Ways lead to the parts of the trial, in the order of its days.
func (p trialPage) Ways() []way {
	out := []way{{address.Trial(p.Plan.Trial), "Plan", p.Part == "trial"}}
	for _, part := range []string{"calendar", "count", "looks", "result"} {
		out = append(out, way{address.Trial(p.Plan.Trial, part), words.Capitalised(part), p.Part == "trial-"+part})
	}
	return out
}

// trialView returns the view of one part of a trial, whose own data of makes.
func (s *section) trialView(name, head string, of func(*http.Request, store.Trial) (any, error)) func(*http.Request) (site.View, error) {
	return func(r *http.Request) (site.View, error) {
		t, err := s.Store().Trial(r.Context(), r.PathValue("id"))
		if err != nil {
			return site.View{}, err
		}
		data, err := of(r, t)
		if err != nil {
			return site.View{}, err
		}
		return s.partOfTrial(t, name, head, data), nil
	}
}

func (s *section) partOfTrial(t store.Trial, name, head string, data any) site.View {
	page := trialPage{Plan: t.Plan, Head: head, Part: name, Closed: !t.Closed.IsZero(), Counted: t.Counts != nil, Of: data}
	page.Progress = counts.Progress{Dishes: len(t.Plan.Dishes)}
	if t.Counts != nil {
		page.Progress = counts.ProgressOf(t.Plan, t.Counts)
	}
	return site.View{Name: name, Title: head + ": " + t.Plan.Taxon, Here: "trials", Cautions: true, Invented: s.InventedNote(t.Plan.Taxon) != "", Data: page}
}

// dishTable lists the dishes with what was done to each.
type dishTable struct {
	Rows  []dishLine
	From  string // the lot, or clutch, of all dishes; "" where there is none or several
	Lots  bool   // they come from several
	Codes []wording.Treatment
	Heads []string
}

type dishLine struct {
	trial.Dish
	Code string
}

func dishesData(_ *http.Request, t store.Trial) (any, error) {
	rows, codes := wording.Treatments(t.Plan)
	out := dishTable{Codes: rows, Heads: factorLabels(t.Plan)}
	for i, d := range t.Plan.Dishes {
		out.Rows = append(out.Rows, dishLine{d, codes[i]})
		out.Lots = out.Lots || d.Block() != t.Plan.Dishes[0].Block()
	}
	if !out.Lots && len(out.Rows) > 0 {
		out.From = out.Rows[0].Block()
	}
	return out, nil
}

func factorLabels(p *trial.Plan) []string {
	var out []string
	for _, f := range p.Factors {
		out = append(out, f.ID.Label())
	}
	return out
}

// calendarDay is what is done on one day.
type calendarDay struct {
	Date  trial.Day
	When  string // today, or next; "" for every other day
	Lines []wording.AgendaLine
}

func (s *section) calendarData(_ *http.Request, t store.Trial) (any, error) {
	var days []calendarDay
	for _, l := range wording.AgendaLines(t.Plan) {
		if len(days) == 0 || days[len(days)-1].Date != l.Date {
			days = append(days, calendarDay{Date: l.Date})
		}
		d := &days[len(days)-1]
		d.Lines = append(d.Lines, l)
	}
	today := s.Today()
	if i := slices.IndexFunc(days, func(d calendarDay) bool { return !d.Date.Before(today) }); i >= 0 {
		days[i].When = "next"
		if days[i].Date == today {
			days[i].When = "today"
		}
	}
	return days, nil
}

// closeTrial ends the counting, so that the result joins the evidence.
func (s *section) closeTrial(r *http.Request) (site.Answer, error) {
	done, err := s.Store().RecordCounts(r.Context(), r.PathValue("id"), nil, "page", true)
	if err != nil {
		return nil, err
	}
	return site.Place(address.Trial(done.Trial, "result")), nil
}

// dropTrial removes a plan in which nothing was counted yet.
func (s *section) dropTrial(r *http.Request) (site.Answer, error) {
	if _, err := s.Store().DropTrial(r.Context(), r.PathValue("id")); err != nil {
		return nil, err
	}
	return site.Place(address.Trials), nil
}
