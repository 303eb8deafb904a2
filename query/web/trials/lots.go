package trials

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/query"
	"hatchlore/query/web/address"
	"hatchlore/query/web/refuse"
	"hatchlore/query/web/site"
)

// lotViews enters the lots of eggs on hand.
func (s *section) lotViews() {
	s.Tab("lots", address.Lots, "Lots")
	s.Page("GET /lots", s.lotList)
	s.Form("POST /lots", s.takeLot(s.addLot))
	s.Page("GET /lots/{name}", s.oneLot)
	s.Form("POST /lots/{name}", s.takeLot(s.editLot))
}

// lotPage is the lots, or one of them, with the form to enter or change one.
type lotPage struct {
	Lots    []store.Lot
	Unknown []string // names in lots on which no paper has a claim
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

func (s *section) lotList(r *http.Request) (site.View, error) {
	return s.lotsWith(r, lotPage{New: true})
}

func (s *section) lotsWith(r *http.Request, page lotPage) (site.View, error) {
	var err error
	if page.Lots, err = s.Store().Lots(r.Context()); err != nil {
		return site.View{}, err
	}
	if page.Unknown, err = s.unknown(r.Context(), page.Lots); err != nil {
		return site.View{}, err
	}
	if page.Promise, err = s.Answers().Promised(r.Context()); err != nil {
		return site.View{}, err
	}
	if page.Taxa, err = s.Taxa(r.Context()); err != nil {
		return site.View{}, err
	}
	invented := slices.ContainsFunc(page.Lots, func(l store.Lot) bool { return s.InventedNote(l.Taxon) != "" })
	return site.View{Name: "lots", Title: "Lots of eggs", Here: "lots", Cautions: true, Invented: invented, Data: page}, nil
}

// unknown returns the names in lots on which no paper has a claim: eggs of what nobody
// has written of, or a name that is misspelt and finds no plan.
func (s *section) unknown(ctx context.Context, lots []store.Lot) ([]string, error) {
	var names []string
	for _, l := range lots {
		if !slices.Contains(names, l.Taxon) {
			names = append(names, l.Taxon)
		}
	}
	return s.Answers().Unclaimed(ctx, names...)
}

// Untold reports whether no paper has a claim on the name in a lot.
func (p lotPage) Untold(l store.Lot) bool { return slices.Contains(p.Unknown, l.Taxon) }

func (s *section) oneLot(r *http.Request) (site.View, error) {
	l, err := s.Store().Lot(r.Context(), r.PathValue("name"))
	if err != nil {
		return site.View{}, err
	}
	page := lotPage{Lot: l, Eggs: strconv.Itoa(l.Left)}
	if l.Sieve != nil {
		page.Sieve = strconv.FormatFloat(*l.Sieve, 'f', -1, 64)
	}
	return s.lotWith(r, page)
}

func (s *section) lotWith(r *http.Request, page lotPage) (site.View, error) {
	var err error
	if page.Entries, err = s.Store().LotEntries(r.Context(), page.Lot.Name); err != nil {
		return site.View{}, err
	}
	if page.Taxa, err = s.Taxa(r.Context()); err != nil {
		return site.View{}, err
	}
	return site.View{Name: "lot", Title: "Lot " + page.Lot.Name, Here: "lots", Cautions: true, Invented: s.InventedNote(page.Lot.Taxon) != "", Data: page}, nil
}

// takeLot returns what takes a lot's form: keep stores it; what is wrong is
// said beside what was typed.
func (s *section) takeLot(keep func(*http.Request, lotPage, int) error) func(*http.Request) (site.Answer, error) {
	return func(r *http.Request) (site.Answer, error) {
		page, eggs, err := readLot(r)
		name := r.PathValue("name")
		if page.New = name == ""; !page.New {
			page.Lot.Name = name
		}
		if err == nil {
			err = keep(r, page, eggs)
		}
		switch status := refuse.Status(err); {
		case err == nil:
			return site.Place(address.Lots), nil
		case status != http.StatusBadRequest:
			return nil, err
		}
		page.Problem = err.Error()
		show := s.lotWith
		if page.New {
			show = s.lotsWith
		}
		v, err := show(r, page)
		v.Status = http.StatusUnprocessableEntity
		return v, err
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
		return page, 0, refuse.Wrong(fmt.Sprintf("the eggs of a lot are a number from 0 to %d, not %q", mostInLot, page.Eggs))
	}
	if page.Sieve != "" {
		mesh, err := strconv.ParseFloat(strings.Replace(page.Sieve, ",", ".", 1), 64)
		if err != nil || !(mesh > 0 && mesh <= 10000) {
			return page, 0, refuse.Wrong(fmt.Sprintf("a sieve is told by its mesh in µm, such as 150, not %q", page.Sieve))
		}
		page.Lot.Sieve = &mesh
	}
	if page.Lot.Collected != "" {
		if _, err := trial.ParseDay(page.Lot.Collected); err != nil {
			return page, 0, refuse.Wrong(err.Error())
		}
	}
	if page.Lot.Taxon == "" {
		return page, 0, refuse.Wrong("say what the eggs are of: a species, or a genus where that is all that is known")
	}
	return page, eggs, nil
}

// mostInLot is more eggs than anybody picks by hand.
const mostInLot = 10_000_000

func (s *section) addLot(r *http.Request, page lotPage, eggs int) error {
	switch {
	case page.Lot.Name == "":
		return refuse.Wrong("give the lot a name, such as one of its place and year")
	case strings.ContainsAny(page.Lot.Name, "=/") || strings.Trim(page.Lot.Name, ".") == "":
		return refuse.Wrong("a lot's name has neither = nor / in it, and more than dots")
	}
	if _, err := s.Store().Lot(r.Context(), page.Lot.Name); err == nil {
		return refuse.Wrong(fmt.Sprintf("there is a lot %s already; choose another name, or open that one to change it", page.Lot.Name))
	}
	page.Lot.Eggs = eggs
	return s.Store().AddLot(r.Context(), page.Lot)
}

func (s *section) editLot(r *http.Request, page lotPage, eggs int) error {
	reason := page.Reason
	if reason == "" {
		reason = "recounted"
	}
	return s.Store().EditLot(r.Context(), page.Lot, &eggs, reason)
}
