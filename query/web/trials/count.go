package trials

import (
	"net/http"
	"net/url"
	"strconv"

	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/query/web/address"
	"hatchlore/query/web/refuse"
	"hatchlore/query/web/site"
	"hatchlore/query/web/trials/countform"
)

// countViews enters the form for counts at the bench.
func (s *section) countViews() {
	s.Page("GET /trials/{id}/count", s.countForm)
	s.Form("POST /trials/{id}/count", s.takeCounts)
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

func (s *section) countForm(r *http.Request) (site.View, error) {
	t, err := s.Store().Trial(r.Context(), r.PathValue("id"))
	if err != nil {
		return site.View{}, err
	}
	day, err := s.countDay(r.URL.Query())
	if err != nil {
		return site.View{}, err
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
func (s *section) countDay(values url.Values) (trial.Day, error) {
	word := values.Get("day")
	if word == "" {
		return s.Today(), nil
	}
	day, err := trial.ParseDay(word)
	switch {
	case err != nil:
		return day, refuse.Wrong(err.Error())
	case s.Today().Before(day):
		return day, refuse.Wrong("nothing can be counted on " + day.String() + " yet: it is " + s.Today().String() + " today")
	}
	return day, nil
}

func (s *section) countPage(t store.Trial, f countform.Form) countPage {
	page := countPage{Form: f, Today: s.Today()}
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

func (s *section) countView(t store.Trial, page countPage) site.View {
	v := s.partOfTrial(t, "trial-count", "Count", page)
	v.Script = "count"
	return v
}

// takeCounts records what was counted. What no dish can have is held back and
// shown again with what was typed; everything else is recorded.
func (s *section) takeCounts(r *http.Request) (site.Answer, error) {
	ctx := r.Context()
	t, err := s.Store().Trial(ctx, r.PathValue("id"))
	if err != nil {
		return nil, err
	}
	day, err := s.countDay(r.PostForm)
	if err != nil {
		return nil, err
	}
	form := countform.New(t.Plan, t.Counts, day)
	sheet := form.Take(t.Plan, t.Counts, r.PostForm)
	var done store.Recorded
	if len(sheet.Looks) > 0 {
		if done, err = s.Store().RecordCounts(ctx, t.Plan.Trial, sheet, "page", false); err != nil {
			return nil, err
		}
	}
	held := form.Wrong()
	if len(held) == 0 {
		if done.Told != "" {
			return site.Place(address.Trial(t.Plan.Trial, "result")), nil
		}
		said := url.Values{"day": {day.String()}, "recorded": {strconv.Itoa(done.New)}, "corrected": {strconv.Itoa(done.Corrected)}}
		return site.Place(address.Trial(t.Plan.Trial, "count") + "?" + said.Encode() + "#said"), nil
	}
	if t, err = s.Store().Trial(ctx, t.Plan.Trial); err != nil {
		return nil, err
	}
	page := s.countPage(t, countform.New(t.Plan, t.Counts, day))
	page.Hold(held)
	page.Recorded, page.Corrected = done.New, done.Corrected
	v := s.countView(t, page)
	v.Status = http.StatusUnprocessableEntity
	return v, nil
}
