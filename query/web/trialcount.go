package web

import (
	"net/http"
	"net/url"
	"strconv"

	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/query/web/countform"
)

// countViews enters the form for counts at the bench.
func (s *Server) countViews() {
	s.page("GET /trials/{id}/count", s.countForm)
	s.mux.HandleFunc("POST /trials/{id}/count", s.takeCounts)
}

// countPage is the counts form with what was just recorded.
type countPage struct {
	countform.Form
	Today     trial.Day
	Looks     []trial.Day // days for which looks are planned
	Next      trial.Day   // the next of them after the form's day; zero for none
	Recorded  int
	Corrected int
}

func (s *Server) countForm(r *http.Request) (view, error) {
	t, err := s.shelf.Store().Trial(r.Context(), r.PathValue("id"))
	if err != nil {
		return view{}, err
	}
	day, err := s.countDay(r.URL.Query())
	if err != nil {
		return view{}, err
	}
	page := s.countPage(t, countform.New(t.Plan, t.Counts, day))
	page.Recorded, page.Corrected = number(r, "recorded"), number(r, "corrected")
	return s.countView(t, page), nil
}

// number reads a small number out of an address; what is none is 0.
func number(r *http.Request, name string) int {
	n, err := strconv.Atoi(r.URL.Query().Get(name))
	if err != nil || n < 0 {
		return 0
	}
	return n
}

// countDay is the day that is counted: today unless another is chosen. A day to
// come is refused, for nobody has counted then.
func (s *Server) countDay(values url.Values) (trial.Day, error) {
	word := values.Get("day")
	if word == "" {
		return s.today(), nil
	}
	day, err := trial.ParseDay(word)
	switch {
	case err != nil:
		return day, wrong(err.Error())
	case s.today().Before(day):
		return day, wrong("nothing can be counted on " + day.String() + " yet: it is " + s.today().String() + " today")
	}
	return day, nil
}

func (s *Server) countPage(t store.Trial, f countform.Form) countPage {
	page := countPage{Form: f, Today: s.today()}
	seen := map[trial.Day]bool{}
	for _, d := range t.Plan.Dishes {
		for _, step := range d.Steps {
			if step.Act == trial.ActLook && !seen[step.Date] {
				seen[step.Date] = true
				page.Looks = append(page.Looks, step.Date)
			}
		}
	}
	for _, d := range page.Looks {
		if f.Day.Before(d) && (page.Next.IsZero() || d.Before(page.Next)) {
			page.Next = d
		}
	}
	return page
}

func (s *Server) countView(t store.Trial, page countPage) view {
	v := s.partOfTrial(t, "trial-count", "Count", page)
	v.script = "count"
	return v
}

// takeCounts records what was counted. What no dish can have is held back and
// shown again with what was typed; everything else is recorded.
func (s *Server) takeCounts(w http.ResponseWriter, r *http.Request) {
	place, v, err := s.tookCounts(r)
	switch {
	case err != nil:
		s.fail(w, r, err)
	case place != "":
		http.Redirect(w, r, place, http.StatusSeeOther)
	default:
		s.render(w, r, v)
	}
}

// tookCounts returns where to go on when everything was recorded, else the form
// with what was held back.
func (s *Server) tookCounts(r *http.Request) (place string, v view, err error) {
	ctx := r.Context()
	t, err := s.shelf.Store().Trial(ctx, r.PathValue("id"))
	if err != nil {
		return "", v, err
	}
	day, err := s.countDay(r.PostForm)
	if err != nil {
		return "", v, err
	}
	form := countform.New(t.Plan, t.Counts, day)
	sheet := form.Take(t.Plan, t.Counts, r.PostForm)
	var done store.Recorded
	if len(sheet.Looks) > 0 {
		if done, err = s.shelf.Store().RecordCounts(ctx, t.Plan.Trial, sheet, "page", false); err != nil {
			return "", v, err
		}
	}
	held := form.Wrong()
	if len(held) == 0 {
		if done.Told != "" {
			return trialAddress(t.Plan.Trial, "result"), v, nil
		}
		said := url.Values{"day": {day.String()}, "recorded": {strconv.Itoa(done.New)}, "corrected": {strconv.Itoa(done.Corrected)}}
		return trialAddress(t.Plan.Trial, "count") + "?" + said.Encode(), v, nil
	}
	if t, err = s.shelf.Store().Trial(ctx, t.Plan.Trial); err != nil {
		return "", v, err
	}
	page := s.countPage(t, countform.New(t.Plan, t.Counts, day))
	page.Hold(held)
	page.Recorded, page.Corrected = done.New, done.Corrected
	v = s.countView(t, page)
	v.status = http.StatusUnprocessableEntity
	return "", v, nil
}
