package witness

import (
	"cmp"
	"slices"
	"strings"

	"hatchlore/evidence"
)

// Wanted is a work that claims cite and that is not in the library.
type Wanted struct {
	Work    string   `json:"work"` // "Wrenfield 1996"
	Title   string   `json:"title"`
	Year    int      `json:"year"`
	DOI     string   `json:"doi"`
	Claims  int      `json:"claims"`  // that rest on it
	Papers  []string `json:"papers"`  // keys of those that cite it
	Taxa    []string `json:"taxa"`    // that the claims are about, as printed
	Printed string   `json:"printed"` // its entry in the list of one of them
	Rivals  []string `json:"rivals"`  // keys in the library of which it could be one
}

// Missing returns the works that claims cite and that the library has not got:
// those that most papers lean on first, then those for most claims.
func Missing(claims []evidence.Claim, library Library) []Wanted {
	lib := Shelve(library)
	claims = Ordered(claims)
	lib.register(claims)
	at := map[string]int{}
	out := []Wanted{}
	for _, c := range claims {
		for _, src := range lib.Works(c) {
			if src.Paper != "" || src.Self {
				continue
			}
			work := lib.work(src)
			i, seen := at[work]
			if !seen {
				i = len(out)
				at[work] = i
				out = append(out, Wanted{Work: src.Citation, Year: src.record.Year, Papers: []string{}, Taxa: []string{}, Rivals: []string{}})
			}
			out[i].take(c, src)
		}
	}
	slices.SortFunc(out, func(a, b Wanted) int {
		return cmp.Or(len(b.Papers)-len(a.Papers), b.Claims-a.Claims, strings.Compare(a.Work, b.Work), strings.Compare(a.Title, b.Title))
	})
	return out
}

// take adds one claim that cites w, and what its paper says of w that none said
// before.
func (w *Wanted) take(c evidence.Claim, src Work) {
	w.Claims++
	w.Title, w.DOI, w.Printed = cmp.Or(w.Title, src.record.Title), cmp.Or(w.DOI, src.record.DOI), cmp.Or(w.Printed, src.Printed)
	add := func(list *[]string, s string) {
		if s != "" && !slices.Contains(*list, s) {
			*list = append(*list, s)
		}
	}
	add(&w.Papers, c.Paper)
	add(&w.Taxa, c.Taxon)
	for _, key := range src.Rivals {
		add(&w.Rivals, key)
	}
}
