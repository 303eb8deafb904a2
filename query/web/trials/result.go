package trials

import (
	"bytes"
	"errors"
	"fmt"
	"net/http"
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/outcome"
	"hatchlore/evidence/trial/verdict"
	"hatchlore/query/web/address"
	"hatchlore/query/web/chart"
	"hatchlore/query/web/refuse"
	"hatchlore/query/web/site"
)

// lookRow is one look with what it said before it was corrected.
type lookRow struct {
	counts.Look
	Latest bool
}

// looksData lists every look day by day, under blind labels, each followed by
// what it said before.
func looksData(_ *http.Request, t store.Trial) (any, error) {
	var rows []lookRow
	if t.Counts == nil {
		return rows, nil
	}
	looks := slices.SortedStableFunc(slices.Values(t.Counts.Looks), func(a, b counts.Look) int {
		if a.Date.IsZero() != b.Date.IsZero() {
			return map[bool]int{true: 1, false: -1}[a.Date.IsZero()] // counts of the end come last
		}
		return a.Date.Since(b.Date)
	})
	for _, l := range looks {
		rows = append(rows, lookRow{l, true})
		for i := len(l.Was) - 1; i >= 0; i-- {
			rows = append(rows, lookRow{l.Was[i], false})
		}
	}
	return rows, nil
}

// resultPage is what the counts say.
type resultPage struct {
	Rows     []fractionRow
	Heads    []string // of the factors
	Bare     bool     // untreated eggs were added to compare with
	Verdicts []verdictGroup
	Model    outcome.ModelResult
	Exact    *outcome.ExactResult
	Notes    []string
	Why      string // why nothing can be weighed yet
	Paper    string // citation key in the evidence, "" before it stands there
}

// Scale are the places of the fractions named below the plot.
func (resultPage) Scale() []scaleMark {
	return []scaleMark{{0, "0"}, {25, "25 %"}, {50, "50 %"}, {75, "75 %"}, {100, "100 %"}}
}

type scaleMark struct {
	At    chart.Percent
	Label string
}

// fractionRow is a treatment with its hatched fraction drawn.
type fractionRow struct {
	outcome.TreatmentResult
	Cells        []string
	Words        string
	From, At, To chart.Percent
}

// verdictGroup is what became of the sides of one disagreement.
type verdictGroup struct {
	Question string
	Address  string
	Sides    []verdict.Verdict
}

func (s *section) resultData(r *http.Request, t store.Trial) (any, error) {
	p := t.Plan
	if t.Counts == nil {
		return resultPage{Why: "nothing is counted yet"}, nil
	}
	res, err := outcome.Weigh(p, t.Counts, outcome.WeighOptions{})
	if err != nil {
		return resultPage{Why: err.Error()}, nil
	}
	asked, err := s.questions(r.Context(), p)
	if err != nil {
		return nil, err
	}
	out := resultPage{Heads: factorLabels(p), Model: res.Model, Exact: res.Exact, Notes: res.Notes}
	if !t.Closed.IsZero() {
		out.Paper = p.Trial
	}
	for _, tr := range res.Treatments {
		out.Rows = append(out.Rows, fractionRowOf(p, tr))
		out.Bare = out.Bare || tr.Control
	}
	for _, v := range res.Verdicts {
		if n := len(out.Verdicts); n == 0 || out.Verdicts[n-1].Sides[0].Conflict != v.Conflict {
			out.Verdicts = append(out.Verdicts, verdictGroup{Question: asked[v.Conflict], Address: address.Disagreement(p.Taxon, v.Conflict)})
		}
		g := &out.Verdicts[len(out.Verdicts)-1]
		g.Sides = append(g.Sides, v)
	}
	return out, nil
}

func fractionRowOf(p *trial.Plan, t outcome.TreatmentResult) fractionRow {
	row := fractionRow{TreatmentResult: t, From: chart.Percent(100 * t.Low), At: chart.Percent(100 * t.Fraction), To: chart.Percent(100 * t.High)}
	for _, f := range p.Factors {
		row.Cells = append(row.Cells, t.Levels[string(f.ID)].In(evidence.Factor(f.ID).Unit()))
	}
	row.Words = fmt.Sprintf("%d of %d eggs hatched, %.0f %%, 95 %% interval %.0f to %.0f %%", t.Hatched, t.Eggs, 100*t.Fraction, 100*t.Low, 100*t.High)
	return row
}

// plotFile sends the fractions as a drawing of its own.
func (s *section) plotFile(w http.ResponseWriter, r *http.Request) error {
	t, err := s.Store().Trial(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	if t.Counts == nil {
		return refuse.Missing("nothing is counted yet in this trial")
	}
	result, err := outcome.Weigh(t.Plan, t.Counts, outcome.WeighOptions{})
	if err != nil {
		return refuse.Wrong(err.Error())
	}
	var b bytes.Buffer
	if err := result.WritePlot(&b); err != nil {
		return errors.Join(errors.New("the plot cannot be drawn"), err)
	}
	site.Attach(w, "image/svg+xml", t.Plan.Trial+".svg")
	_, err = b.WriteTo(w)
	return err
}
