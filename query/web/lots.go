package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/query"
)

// lotViews enters the lots of eggs on hand.
func (s *Server) lotViews() {
	s.tab("lots", "/lots", "Lots")
	s.page("GET /lots", s.lotList)
	s.mux.HandleFunc("POST /lots", s.sendLot("", s.addLot))
	s.page("GET /lots/{name}", s.oneLot)
	s.mux.HandleFunc("POST /lots/{name}", s.sendLot("name", s.editLot))
}

func lotAddress(name string) string { return "/lots/" + url.PathEscape(name) }

// lotPage is the lots, or one of them, with the form to enter or change one.
type lotPage struct {
	Lots    []store.Lot
	Promise map[string][]query.Promise
	Lot     store.Lot // in the form
	Eggs    string    // as typed
	Sieve   string
	Reason  string
	Taxa    []string
	Entries []store.LotEntry
	Problem string
	New     bool
}

func (s *Server) lotList(r *http.Request) (view, error) { return s.lotsWith(r, lotPage{New: true}) }

func (s *Server) lotsWith(r *http.Request, page lotPage) (view, error) {
	var err error
	if page.Lots, err = s.shelf.Store().Lots(r.Context()); err != nil {
		return view{}, err
	}
	if page.Promise, err = s.shelf.Answers().Promised(r.Context()); err != nil {
		return view{}, err
	}
	if page.Taxa, err = s.taxa(r); err != nil {
		return view{}, err
	}
	invented := slices.ContainsFunc(page.Lots, func(l store.Lot) bool { return s.shelf.InventedNote(l.Taxon) != "" })
	return view{name: "lots", title: "Lots of eggs", here: "lots", cautions: true, invented: invented, data: page}, nil
}

func (s *Server) taxa(r *http.Request) ([]string, error) {
	known, err := s.overview(r.Context())
	var out []string
	for _, k := range known {
		out = append(out, k.Taxon)
	}
	return out, err
}

func (s *Server) oneLot(r *http.Request) (view, error) {
	l, err := s.shelf.Store().Lot(r.Context(), r.PathValue("name"))
	if err != nil {
		return view{}, err
	}
	page := lotPage{Lot: l, Eggs: strconv.Itoa(l.Left)}
	if l.Sieve != nil {
		page.Sieve = strconv.FormatFloat(*l.Sieve, 'f', -1, 64)
	}
	return s.lotWith(r, page)
}

func (s *Server) lotWith(r *http.Request, page lotPage) (view, error) {
	var err error
	if page.Entries, err = s.shelf.Store().LotEntries(r.Context(), page.Lot.Name); err != nil {
		return view{}, err
	}
	if page.Taxa, err = s.taxa(r); err != nil {
		return view{}, err
	}
	return view{name: "lot", title: "Lot " + page.Lot.Name, here: "lots", cautions: true, invented: s.shelf.InventedNote(page.Lot.Taxon) != "", data: page}, nil
}

// sendLot returns what takes a lot's form: done stores it; what is wrong is
// said beside what was typed.
func (s *Server) sendLot(value string, done func(*http.Request, lotPage, int) error) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		page, eggs, err := readLot(r)
		if value != "" {
			page.Lot.Name = r.PathValue(value)
		}
		if err == nil {
			err = done(r, page, eggs)
		}
		switch status := statusOf(err); {
		case err == nil:
			http.Redirect(w, r, "/lots", http.StatusSeeOther)
			return
		case status != http.StatusBadRequest:
			s.fail(w, r, err)
			return
		}
		page.Problem = err.Error()
		var v view
		if page.New = value == ""; page.New {
			v, err = s.lotsWith(r, page)
		} else {
			v, err = s.lotWith(r, page)
		}
		if err != nil {
			s.fail(w, r, err)
			return
		}
		v.status = http.StatusUnprocessableEntity
		s.render(w, r, v)
	}
}

// readLot reads a lot's form.
func readLot(r *http.Request) (page lotPage, eggs int, err error) {
	get := func(name string) string { return strings.TrimSpace(r.PostForm.Get(name)) }
	page = lotPage{Eggs: get("eggs"), Sieve: get("sieve"), Reason: get("reason"), Lot: store.Lot{
		Name: get("lot"), Taxon: get("taxon"), Region: get("region"), Site: get("site"), Collector: get("collector"), Permit: get("permit"),
		Collected: get("collected"), Sediment: get("sediment"), Note: get("note"),
	}}
	if eggs, err = strconv.Atoi(page.Eggs); err != nil || eggs < 0 || eggs > mostInLot {
		return page, 0, wrong(fmt.Sprintf("the eggs of a lot are a number from 0 to %d, not %q", mostInLot, page.Eggs))
	}
	if page.Sieve != "" {
		mesh, err := strconv.ParseFloat(strings.Replace(page.Sieve, ",", ".", 1), 64)
		if err != nil || !(mesh > 0 && mesh <= 10000) {
			return page, 0, wrong(fmt.Sprintf("a sieve is told by its mesh in µm, such as 150, not %q", page.Sieve))
		}
		page.Lot.Sieve = &mesh
	}
	if page.Lot.Collected != "" {
		if _, err := trial.ParseDay(page.Lot.Collected); err != nil {
			return page, 0, wrong(err.Error())
		}
	}
	if page.Lot.Taxon == "" {
		return page, 0, wrong("say what the eggs are of: a species, or a genus where that is all that is known")
	}
	return page, eggs, nil
}

// mostInLot is more eggs than anybody picks by hand.
const mostInLot = 10_000_000

func (s *Server) addLot(r *http.Request, page lotPage, eggs int) error {
	switch {
	case page.Lot.Name == "":
		return wrong("give the lot a name, such as one of its place and year")
	case strings.ContainsAny(page.Lot.Name, "=/"):
		return wrong("a lot's name has neither = nor / in it")
	}
	if _, err := s.shelf.Store().Lot(r.Context(), page.Lot.Name); err == nil {
		return wrong(fmt.Sprintf("there is a lot %s already; choose another name, or open that one to change it", page.Lot.Name))
	}
	page.Lot.Eggs = eggs
	return s.shelf.Store().AddLot(r.Context(), page.Lot)
}

func (s *Server) editLot(r *http.Request, page lotPage, eggs int) error {
	reason := page.Reason
	if reason == "" {
		reason = "recounted"
	}
	return s.shelf.Store().EditLot(r.Context(), page.Lot, &eggs, reason)
}
