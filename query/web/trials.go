package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"net/http"
	"net/url"
	"strings"

	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/bench"
	"hatchlore/evidence/trial/counts"
	"hatchlore/query"
)

// trialViews enters the list of trials and the views of one: its plan,
// calendar, sheets, looks and result. Planning and counting have files of
// their own.
func (s *Server) trialViews() {
	s.tab("trials", "/trials", "Trials")
	s.page("GET /trials", s.trialList)
	s.planViews()
	s.page("GET /trials/{id}", s.trialView("trial", "Plan", s.planData))
	s.page("GET /trials/{id}/dishes", s.trialView("trial-dishes", "Which dish is which", dishesData))
	s.page("GET /trials/{id}/calendar", s.trialView("trial-calendar", "Calendar", calendarData))
	s.page("GET /trials/{id}/looks", s.trialView("trial-looks", "Looks", looksData))
	s.page("GET /trials/{id}/result", s.trialView("trial-result", "Result", s.resultData))
	s.countViews()
	s.file("GET /trials/{id}/sheets", s.benchSheets)
	s.file("GET /trials/{id}/calendar.ics", s.calendarFile)
	s.file("GET /trials/{id}/counts.csv", s.countSheetFile)
	s.file("GET /trials/{id}/plot.svg", s.plotFile)
	s.form("POST /trials/{id}/close", s.closeTrial)
	s.form("POST /trials/{id}/drop", s.dropTrial)
	s.lotViews()
}

// trialAddress is where a trial is shown, or a part of it.
func trialAddress(id string, part ...string) string {
	return strings.Join(append([]string{"/trials/" + url.PathEscape(id)}, part...), "/")
}

func (s *Server) today() trial.Day { return trial.DayOf(s.opt.Now()) }

// trialRow is a trial in the list, with the dishes that wait to be looked at.
type trialRow struct {
	query.TrialLine
	Due int
}

func (s *Server) trialList(r *http.Request) (view, error) {
	lines, err := s.shelf.Answers().Trials(r.Context())
	if err != nil {
		return view{}, err
	}
	var rows []trialRow
	invented := false
	for _, l := range lines {
		row := trialRow{TrialLine: l}
		invented = invented || s.shelf.InventedNote(l.Taxon) != ""
		if l.State != query.Told {
			t, err := s.shelf.Store().Trial(r.Context(), l.Trial)
			if err != nil {
				return view{}, err
			}
			row.Due = len(counts.DueOn(t.Plan, t.Counts, s.today()))
		}
		rows = append(rows, row)
	}
	return view{name: "trials", title: "Trials", here: "trials", cautions: true, invented: invented, data: map[string]any{"Trials": rows}}, nil
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

// trialView returns the view of one part of a trial, whose own data of makes.
func (s *Server) trialView(name, head string, of func(*http.Request, store.Trial) (any, error)) func(*http.Request) (view, error) {
	return func(r *http.Request) (view, error) {
		t, err := s.shelf.Store().Trial(r.Context(), r.PathValue("id"))
		if err != nil {
			return view{}, err
		}
		data, err := of(r, t)
		if err != nil {
			return view{}, err
		}
		return s.partOfTrial(t, name, head, data), nil
	}
}

func (s *Server) partOfTrial(t store.Trial, name, head string, data any) view {
	page := trialPage{Plan: t.Plan, Head: head, Part: name, Closed: !t.Closed.IsZero(), Counted: t.Counts != nil, Of: data}
	page.Progress = counts.Progress{Dishes: len(t.Plan.Dishes)}
	if t.Counts != nil {
		page.Progress = counts.ProgressOf(t.Plan, t.Counts)
	}
	return view{name: name, title: head + ": " + t.Plan.Taxon, here: "trials", cautions: true, invented: s.shelf.InventedNote(t.Plan.Taxon) != "", data: page}
}

// dishTable lists the dishes with what was done to each.
type dishTable struct {
	Rows  []dishLine
	Lots  bool
	Codes []query.Treatment
	Heads []string
}

type dishLine struct {
	trial.Dish
	Code string
}

func dishesData(_ *http.Request, t store.Trial) (any, error) {
	rows, codes := query.Treatments(t.Plan)
	out := dishTable{Codes: rows, Heads: factorLabels(t.Plan)}
	for i, d := range t.Plan.Dishes {
		out.Rows = append(out.Rows, dishLine{d, codes[i]})
		out.Lots = out.Lots || d.Block() != ""
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
	Lines []query.AgendaLine
}

func calendarData(_ *http.Request, t store.Trial) (any, error) {
	var days []calendarDay
	for _, l := range query.AgendaLines(t.Plan) {
		if len(days) == 0 || days[len(days)-1].Date != l.Date {
			days = append(days, calendarDay{Date: l.Date})
		}
		d := &days[len(days)-1]
		d.Lines = append(d.Lines, l)
	}
	return days, nil
}

// sheetPapers are the sizes of paper that sheets are printed on, by their name
// in an address.
var sheetPapers = map[string]bench.Paper{"": bench.A4, "a4": bench.A4, "letter": bench.Letter}

// benchSheets sends the sheets to print. They bring a style sheet inside, which
// the policy allows by its digest.
func (s *Server) benchSheets(w http.ResponseWriter, r *http.Request) error {
	t, err := s.shelf.Store().Trial(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	paper, ok := sheetPapers[r.URL.Query().Get("paper")]
	if !ok {
		return wrong("sheets are printed on a4 or letter")
	}
	var b bytes.Buffer
	if err := bench.WriteSheets(&b, t.Plan, paper); err != nil {
		return err
	}
	w.Header().Set("Content-Security-Policy", "default-src 'none'; base-uri 'none'; frame-ancestors 'none'; style-src "+styleDigest(b.String()))
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, err = b.WriteTo(w)
	return err
}

// styleDigest is the source expression (W3C CSP level 3) that allows the one
// style element of a page.
func styleDigest(page string) string {
	_, rest, _ := strings.Cut(page, "<style>")
	style, _, found := strings.Cut(rest, "</style>")
	if !found {
		return "'none'"
	}
	sum := sha256.Sum256([]byte(style))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// attach names a file that is to be kept rather than shown.
func attach(w http.ResponseWriter, kind, name string) {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", "attachment; filename*=UTF-8''"+url.PathEscape(name))
}

func (s *Server) calendarFile(w http.ResponseWriter, r *http.Request) error {
	t, err := s.shelf.Store().Trial(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	attach(w, "text/calendar; charset=utf-8", t.Plan.Trial+".ics")
	return bench.WriteCalendar(w, t.Plan, s.opt.Now())
}

func (s *Server) countSheetFile(w http.ResponseWriter, r *http.Request) error {
	t, err := s.shelf.Store().Trial(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	attach(w, "text/csv; charset=utf-8", t.Plan.Trial+".csv")
	return bench.WriteCountSheet(w, t.Plan)
}

// closeTrial ends the counting, so that the result joins the evidence.
func (s *Server) closeTrial(r *http.Request) (string, error) {
	done, err := s.shelf.Store().RecordCounts(r.Context(), r.PathValue("id"), nil, "page", true)
	if err != nil {
		return "", err
	}
	return trialAddress(done.Trial, "result"), nil
}

// dropTrial removes a plan in which nothing was counted yet.
func (s *Server) dropTrial(r *http.Request) (string, error) {
	if _, err := s.shelf.Store().DropTrial(r.Context(), r.PathValue("id")); err != nil {
		return "", err
	}
	return "/trials", nil
}
