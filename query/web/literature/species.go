package literature

import (
	"cmp"
	"context"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/query"
	"hatchlore/query/web/address"
	"hatchlore/query/web/chart"
	"hatchlore/query/web/refuse"
	"hatchlore/query/web/site"
	"hatchlore/query/wording"
	"hatchlore/species/conflict"
	"hatchlore/species/table"
	"hatchlore/species/taxonomy"
)

// speciesViews enters the list of species and the view of one.
func (s *section) speciesViews() {
	s.Tab("species", address.Home, "Species")
	s.Page("GET /{$}", s.speciesList)
	s.Page("GET /species/{taxon}", s.oneSpecies)
}

func (s *section) evidence(ctx context.Context, taxon string) (query.Evidence, error) {
	return site.Asked(ctx, s.Site, "evidence "+taxon, func(ctx context.Context) (query.Evidence, error) {
		return s.Answers().Evidence(ctx, taxon, false, nil)
	})
}

// told finds the evidence and the disagreements on a taxon side by side: of a large
// genus each takes a while.
func (s *section) told(ctx context.Context, taxon string) (ev query.Evidence, d query.Disputes, err error) {
	var group sync.WaitGroup
	var failed error
	group.Go(func() { ev, failed = s.evidence(ctx, taxon) })
	d, err = s.Disagreements(ctx, taxon)
	group.Wait()
	return ev, d, cmp.Or(failed, err)
}

// genus is the species of one genus, as the list shows them.
type genus struct {
	Name    string
	Whole   *query.Known // claims on the genus as such
	Species []query.Known
}

// listPage is the list of species.
type listPage struct {
	Genera  []genus
	Counts  store.Counts
	Claims  int // on species and genera; what a paper says in several places is one
	Unnamed query.Unnamed
	Alike   []taxonomy.Pair // names that may be two spellings of one
	More    int             // pairs beyond those shown
}

// mostAlike bounds the pairs of names that the list shows.
const mostAlike = 20

func (s *section) unnamed(ctx context.Context) (query.Unnamed, error) {
	return site.Asked(ctx, s.Site, "unnamed", s.Answers().Unnamed)
}

func (s *section) speciesList(r *http.Request) (site.View, error) {
	known, err := s.Overview(r.Context())
	if err != nil {
		return site.View{}, err
	}
	counts, err := s.Store().Counts(r.Context())
	if err != nil {
		return site.View{}, err
	}
	invented, err := s.inventedPapers(r.Context())
	if err != nil {
		return site.View{}, err
	}
	page := listPage{Genera: genera(known), Counts: counts}
	for _, k := range known {
		page.Claims += k.Claims
	}
	if page.Unnamed, err = s.unnamed(r.Context()); err != nil {
		return site.View{}, err
	}
	if page.Alike, err = s.Answers().Alike(r.Context()); err != nil {
		return site.View{}, err
	}
	if page.More = max(0, len(page.Alike)-mostAlike); page.More > 0 {
		page.Alike = page.Alike[:mostAlike]
	}
	return site.View{Name: "list", Title: "Species", Here: "species", Invented: len(invented) > 0, Data: page}, nil
}

// genera sorts names, which come by name, under their genus.
func genera(known []query.Known) []genus {
	var out []genus
	for i, k := range known {
		name, _, isSpecies := strings.Cut(k.Taxon, " ")
		if len(out) == 0 || out[len(out)-1].Name != name {
			out = append(out, genus{Name: name})
		}
		g := &out[len(out)-1]
		if isSpecies {
			g.Species = append(g.Species, k)
		} else {
			g.Whole = &known[i]
		}
	}
	return out
}

// factorTable is the rows of one factor with their chart.
type factorTable struct {
	Factor evidence.Factor
	Label  string
	Anchor string
	Axis   *chart.Axis // nil where there is nothing to compare
	Lines  []evidenceLine
	Of     int      // lines there are; of a long table only the first are shown
	Pooled []string // of the hatched fraction: what papers tell together
}

// evidenceLine is one claim in the table.
type evidenceLine struct {
	table.Row
	Shown string // value in the scale asked for
	As    string // as printed, where that differs
	Bar   *chart.Bar
	Pages string // on which it stands, each once
	Notes string
	Sides []sideTag
}

// sideTag says on which side of which disagreement a claim stands.
type sideTag struct {
	Disagreement string // address
	Number       int    // its place in the list of disagreements
	Side         string // A, B, …
	About        string
}

func (s *section) oneSpecies(r *http.Request) (site.View, error) {
	taxon, scale := r.PathValue("taxon"), site.DegreesOf(r)
	ev, d, err := s.told(r.Context(), taxon)
	if err != nil {
		return site.View{}, err
	}
	invented, err := s.inventedPapers(r.Context())
	if err != nil {
		return site.View{}, err
	}
	names, err := s.namesOf(r.Context(), ev.Taxon)
	if err != nil {
		return site.View{}, err
	}
	only := evidence.Factor(r.URL.Query().Get("factor"))
	if _, ok := evidence.MeasureOf(only); !ok && only != "" {
		return site.View{}, refuse.Wrong("there is no such factor; choose one of the list")
	}
	tables := factorTables(ev, d, scale, only)
	shows := slices.ContainsFunc(ev.Rows, func(r table.Row) bool { return invented[r.Paper] })
	return site.View{Name: "species", Title: ev.Taxon, Here: "species", Cautions: true, Invented: shows, Data: speciesPage{
		Evidence: ev, Disagreements: d, Tables: tables, Note: wording.FiguresNote, Only: label(only),
		Names: names,
	}}, nil
}

// speciesPage is what is told of a taxon.
type speciesPage struct {
	Evidence      query.Evidence
	Disagreements query.Disputes
	Tables        []factorTable
	Only          string // factor to which the tables are held, "" for none
	Note          string
	Names         taxonNames
}

// label names a factor, "" none.
func label(f evidence.Factor) string {
	if f == "" {
		return ""
	}
	return f.Label()
}

// A page with more rows than longTable shows the first few of each factor
// and leads to the rest: a genus can have thousands.
const (
	longTable = 400
	firstRows = 20
)

// factorTables lays evidence out factor by factor, or that on one factor only.
func factorTables(ev query.Evidence, d query.Disputes, scale site.Degrees, only evidence.Factor) []factorTable {
	tags := sideTags(d)
	var out []factorTable
	for i := 0; i < len(ev.Rows); {
		j := i
		for j < len(ev.Rows) && ev.Rows[j].Factor == ev.Rows[i].Factor {
			j++
		}
		t := factorTable{Factor: ev.Rows[i].Factor, Label: ev.Rows[i].Factor.Label(), Anchor: string(ev.Rows[i].Factor)}
		rows := ev.Rows[i:j]
		i = j
		if only != "" && t.Factor != only {
			continue
		}
		t.Of = len(rows)
		t.Lines, t.Axis = evidenceLines(rows, ev.Taxon, tags, scale)
		if len(ev.Rows) > longTable && only == "" {
			t.Lines = t.Lines[:min(firstRows, len(t.Lines))]
		}
		if t.Factor == evidence.HatchingFraction {
			t.Pooled = wording.PooledLines(ev.Pooled, ev.Taxon)
		}
		out = append(out, t)
	}
	return out
}

func evidenceLines(rows []table.Row, taxon string, tags map[string][]sideTag, scale site.Degrees) ([]evidenceLine, *chart.Axis) {
	spans := make([]chart.Span, len(rows))
	for i, r := range rows {
		c := scale.Shown(r.Claim)
		spans[i] = chart.Span{Low: c.Low, High: c.High, Unit: c.Unit, Bearing: c.Bearing, Secondhand: c.Secondhand}
	}
	axis := chart.New(spans)
	out := make([]evidenceLine, len(rows))
	for i, r := range rows {
		l := evidenceLine{Row: r, Shown: scale.Value(r.Claim), Pages: pages(r), Notes: wording.RowNotes(r, taxon), Sides: tags[r.ID]}
		if r.Printed != l.Shown {
			l.As = r.Printed
		}
		if axis != nil {
			l.Bar = axis.Bar(spans[i])
		}
		out[i] = l
	}
	return out, axis
}

// pages lists the pages on which a paper says the same, each once.
func pages(r table.Row) string {
	all := []int{r.Page}
	for _, p := range r.Also {
		all = append(all, p.Page)
	}
	slices.Sort(all)
	var out []string
	for _, n := range slices.Compact(all) {
		out = append(out, strconv.Itoa(n))
	}
	return strings.Join(out, ", ")
}

// sideTags finds the sides on which claims stand.
func sideTags(d query.Disputes) map[string][]sideTag {
	out := map[string][]sideTag{}
	for n, c := range d.Conflicts {
		for i, side := range c.Sides {
			for _, id := range side.Claims {
				out[id] = append(out[id], sideTag{address.Disagreement(d.Taxon, c.ID), n + 1, conflict.Letter(i), c.Question})
			}
		}
	}
	return out
}

// inventedPapers returns the keys of the demonstration papers in the library.
func (s *section) inventedPapers(ctx context.Context) (map[string]bool, error) {
	return site.Asked(ctx, s.Site, "invented", func(ctx context.Context) (map[string]bool, error) {
		out := map[string]bool{}
		for p, err := range s.Store().Papers(ctx) {
			if err != nil {
				return nil, err
			}
			if s.Invented(p.Hash) {
				out[p.Paper] = true
			}
		}
		return out, nil
	})
}
