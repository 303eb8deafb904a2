package trials

import (
	"bytes"
	"cmp"
	"net/http"

	"hatchlore/evidence/trial/bench"
	"hatchlore/query/web/refuse"
	"hatchlore/query/web/site"
)

// benchFiles enters what is taken to the bench: sheets, calendar, count sheet,
// and the drawing of the result.
func (s *section) benchFiles() {
	s.File("GET /trials/{id}/sheets", s.benchSheets)
	s.File("GET /trials/{id}/calendar.ics", s.calendarFile)
	s.File("GET /trials/{id}/counts.csv", s.countSheetFile)
	s.File("GET /trials/{id}/plot.svg", s.plotFile)
}

// benchSheets sends the sheets to print.
func (s *section) benchSheets(w http.ResponseWriter, r *http.Request) error {
	t, err := s.Store().Trial(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	paper, ok := bench.PaperNamed(cmp.Or(r.URL.Query().Get("paper"), "a4"))
	if !ok {
		return refuse.Wrong("sheets are printed on a4 or letter")
	}
	var b bytes.Buffer
	if err := bench.WriteSheets(&b, t.Plan, paper); err != nil {
		return err
	}
	return site.SendSheet(w, b.Bytes())
}

func (s *section) calendarFile(w http.ResponseWriter, r *http.Request) error {
	t, err := s.Store().Trial(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	site.Attach(w, "text/calendar; charset=utf-8", t.Plan.Trial+".ics")
	return bench.WriteCalendar(w, t.Plan, s.Now())
}

func (s *section) countSheetFile(w http.ResponseWriter, r *http.Request) error {
	t, err := s.Store().Trial(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	site.Attach(w, "text/csv; charset=utf-8", t.Plan.Trial+".csv")
	return bench.WriteCountSheet(w, t.Plan)
}
