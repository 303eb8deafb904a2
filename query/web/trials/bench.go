package trials

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"net/http"
	"net/url"
	"strings"

	"hatchlore/evidence/trial/bench"
	"hatchlore/query/web/refuse"
)

// benchFiles enters what is taken to the bench: sheets, calendar, count sheet,
// and the drawing of the result.
func (s *section) benchFiles() {
	s.File("GET /trials/{id}/sheets", s.benchSheets)
	s.File("GET /trials/{id}/calendar.ics", s.calendarFile)
	s.File("GET /trials/{id}/counts.csv", s.countSheetFile)
	s.File("GET /trials/{id}/plot.svg", s.plotFile)
}

// sheetPapers are the sizes of paper that sheets are printed on, by their name
// in an address.
var sheetPapers = map[string]bench.Paper{"": bench.A4, "a4": bench.A4, "letter": bench.Letter}

// benchSheets sends the sheets to print. They bring a style sheet inside, which
// the policy allows by its digest.
func (s *section) benchSheets(w http.ResponseWriter, r *http.Request) error {
	t, err := s.Store().Trial(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	paper, ok := sheetPapers[r.URL.Query().Get("paper")]
	if !ok {
		return refuse.Wrong("sheets are printed on a4 or letter")
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

func (s *section) calendarFile(w http.ResponseWriter, r *http.Request) error {
	t, err := s.Store().Trial(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	attach(w, "text/calendar; charset=utf-8", t.Plan.Trial+".ics")
	return bench.WriteCalendar(w, t.Plan, s.Now())
}

func (s *section) countSheetFile(w http.ResponseWriter, r *http.Request) error {
	t, err := s.Store().Trial(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	attach(w, "text/csv; charset=utf-8", t.Plan.Trial+".csv")
	return bench.WriteCountSheet(w, t.Plan)
}
