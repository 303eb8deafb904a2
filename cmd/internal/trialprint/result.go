package trialprint

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strings"

	"hatchlore/cmd/internal/terminal"
	"hatchlore/evidence"
	"hatchlore/evidence/stat"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/outcome"
	"hatchlore/query/wording"
)

// Result prints what counts say for a person: fractions, verdicts, then
// the model behind them. p is nil for a table of its own.
func Result(w io.Writer, p *trial.Plan, r *outcome.Result, correction stat.Correction) error {
	width := terminal.Width(w)
	if p != nil {
		terminal.Say(w, "trial %s: %s", p.Trial, p.Taxon)
		if held := heldWords(p); held != "" {
			fmt.Fprintln(w, "in all dishes:", held)
		}
		fmt.Fprintln(w)
	}
	for i, part := range []struct {
		head string
		grid *terminal.Grid
	}{
		{"hatched", fractionGrid(p, r)},
		{"verdicts", verdictGrid(p, r)},
		{modelHead(r) + modelWords(r.Model), termGrid(r.Model)},
		{"terms as a whole", testGrid(r.Model)},
		{"two treatments, exact test (eggs taken as independent)", exactGrid(r.Exact)},
	} {
		if part.grid.Empty() {
			continue
		}
		if i > 0 {
			fmt.Fprintln(w)
		}
		terminal.Paragraph(w, part.head, 0, width)
		if err := part.grid.Print(w, 2, width); err != nil {
			return err
		}
	}
	terminal.List(w, "how to read it", readingOf(p, r, correction), 0, width)
	return terminal.List(w, "mind", r.Notes, 0, width)
}

// readingOf explains the figures that are printed.
func readingOf(p *trial.Plan, r *outcome.Result, correction stat.Correction) []string {
	hatched := "hatched: intervals by Wilson, as if every egg hatched by itself"
	if slices.ContainsFunc(r.Treatments, func(t outcome.TreatmentResult) bool { return t.HalfDays.Known() }) {
		hatched += "; half by day: by which day after the trigger half of those that hatched had"
	}
	out := []string{hatched}
	if len(r.Verdicts) > 0 && len(p.Questions) > 1 {
		out = append(out, fmt.Sprintf("verdicts: intervals at %.1f %%, which is 95 %% shared over %d questions, allow for dishes that differ", 100*r.Level, len(p.Questions)))
	} else if len(r.Verdicts) > 0 {
		out = append(out, "verdicts: intervals at 95 % allow for dishes that differ")
	}
	model := "model: each term is the difference from the first level of its factor, on the logit scale"
	if n := len(r.Model.Terms) - 1; n > 1 {
		model += fmt.Sprintf("; p adjusted by %s, for %s and for %s", correctionWords[correction], trial.Plural(n, "difference"), trial.Plural(len(r.Model.Tests), "term"))
	}
	if taken := takenOut(p); taken != "" {
		model += "; what differs between " + taken + " is taken out"
	}
	return append(out, model)
}

// takenOut names what else sets the dishes of a plan apart.
func takenOut(p *trial.Plan) string {
	if p == nil {
		return ""
	}
	var out []string
	if len(p.Runs) > 1 {
		out = append(out, "chamber runs")
	}
	if slices.ContainsFunc(p.Dishes, func(d trial.Dish) bool { return d.Block() != p.Dishes[0].Block() }) {
		out = append(out, "lots or clutches")
	}
	return strings.Join(out, " and between ")
}

var correctionWords = map[stat.Correction]string{stat.Holm: "Holm", stat.BenjaminiHochberg: "Benjamini and Hochberg", stat.Bonferroni: "Bonferroni"}

// mostBeside is the most factors beside which a bar has room.
const mostBeside = 3

// fractionGrid shows each treatment with the interval of its fraction as a
// number and, where there is room, as a bar over 0 to 100 %.
func fractionGrid(p *trial.Plan, r *outcome.Result) *terminal.Grid {
	names := factorNames(p, r)
	g := &terminal.Grid{}
	for _, n := range names {
		g.Heads = append(g.Heads, evidence.Factor(n).Label())
	}
	emerged := slices.ContainsFunc(r.Treatments, func(t outcome.TreatmentResult) bool { return t.Emerged > t.Hatched })
	half := slices.ContainsFunc(r.Treatments, func(t outcome.TreatmentResult) bool { return t.HalfDays.Known() })
	g.Heads = append(g.Heads, "dishes", "hatched", "fraction", "95 % interval")
	bars := len(names) <= mostBeside
	if bars {
		g.Heads = append(g.Heads, "0–100 %")
	}
	if emerged {
		g.Heads = append(g.Heads, "emerged")
	}
	if half {
		g.Heads = append(g.Heads, "half by day")
	}
	g.Heads = append(g.Heads, "")
	for _, t := range r.Treatments {
		var row []string
		for _, n := range names {
			row = append(row, t.Levels[n].In(unitOf(p, n)))
		}
		row = append(row, fmt.Sprint(t.Dishes), fmt.Sprintf("%d of %d", t.Hatched, t.Eggs), percent(t.Fraction),
			fmt.Sprintf("%.0f to %.0f %%", 100*t.Low, 100*t.High))
		if bars {
			row = append(row, bar(t.Low, t.Fraction, t.High))
		}
		if emerged {
			row = append(row, fmt.Sprint(t.Emerged))
		}
		if half {
			row = append(row, figure(t.HalfDays, "%.1f"))
		}
		note := ""
		if t.Control {
			note = "untreated"
		}
		g.Add(append(row, note)...)
	}
	return g
}

// factorNames are the factors in the plan's order, or by name without a plan.
func factorNames(p *trial.Plan, r *outcome.Result) []string {
	if p == nil {
		if len(r.Treatments) == 0 {
			return nil
		}
		return slices.Sorted(maps.Keys(r.Treatments[0].Levels))
	}
	var out []string
	for _, f := range p.Factors {
		out = append(out, string(f.ID))
	}
	return out
}

func unitOf(p *trial.Plan, name string) string {
	if p == nil {
		return ""
	}
	return evidence.Factor(name).Unit()
}

// barWidth is the length of a bar from 0 to 100 %.
const barWidth = 14

// bar draws an interval with its middle: "  ├──●────┤".
func bar(low, middle, high float64) string {
	at := func(v float64) int { return min(barWidth-1, max(0, int(v*barWidth))) }
	cells := slices.Repeat([]rune{'·'}, barWidth)
	for i := at(low); i <= at(high); i++ {
		cells[i] = '─'
	}
	cells[at(middle)] = '●'
	return string(cells)
}

// verdictGrid says what became of each side, with the figure below it; what
// two sides of a question share is said once, under the last.
func verdictGrid(p *trial.Plan, r *outcome.Result) *terminal.Grid {
	g := &terminal.Grid{Heads: []string{"disagreement", "side", "verdict"}}
	for i, v := range r.Verdicts {
		conflict := ""
		if i == 0 || r.Verdicts[i-1].Conflict != v.Conflict {
			conflict = wording.Question(p, v.Conflict)
		}
		g.Add(conflict, v.Side, v.Verdict)
		if i+1 == len(r.Verdicts) || r.Verdicts[i+1].Conflict != v.Conflict || r.Verdicts[i+1].Why != v.Why {
			g.Under(v.Why)
		}
	}
	return g
}

func modelHead(r *outcome.Result) string {
	if r.Outcome == "emerged" {
		return "model of the emerged: "
	}
	return "model: "
}

func modelWords(m outcome.ModelResult) string {
	s := "logistic, " + m.Kind
	if m.Dispersion.Known() {
		s += fmt.Sprintf("; dishes spread %.2f times as much as independent eggs would", float64(m.Dispersion))
	}
	if m.Rho.Known() {
		s += "; likeness within dishes " + wording.Likeness(float64(m.Rho))
	}
	return s
}

func termGrid(m outcome.ModelResult) *terminal.Grid {
	test := "z"
	if slices.ContainsFunc(m.Terms, func(t outcome.TermResult) bool { return t.DF != nil }) {
		test = "t"
	}
	g := &terminal.Grid{Heads: []string{"term", "estimate (logit)", "error", test, "df", "p", "p adjusted"}}
	for _, t := range m.Terms {
		g.Add(t.Term, figure(t.Estimate, "%.3f"), figure(t.SE, "%.3f"), figure(t.Statistic, "%.2f"), degrees(t.DF), pValue(t.P), pValue(t.PAdjusted))
	}
	return g
}

func testGrid(m outcome.ModelResult) *terminal.Grid {
	test := "χ²"
	if slices.ContainsFunc(m.Tests, func(t outcome.TestResult) bool { return t.DF2 != nil }) {
		test = "F"
	}
	g := &terminal.Grid{Heads: []string{"term", test, "df", "p", "p adjusted"}}
	for _, t := range m.Tests {
		g.Add(t.Term, figure(t.Statistic, "%.2f"), fmt.Sprint(t.DF1)+", "+cmp.Or(degrees(t.DF2), "∞"), pValue(t.P), pValue(t.PAdjusted))
	}
	return g
}

func exactGrid(e *outcome.ExactResult) *terminal.Grid {
	g := &terminal.Grid{Heads: []string{"odds, second to first", "95 % interval", "p (Fisher)"}}
	if e != nil {
		g.Add(ratio(e.OddsRatio), ratio(e.Low)+" to "+ratio(e.High), pValue(outcome.Figure(e.P)))
	}
	return g
}

// ratio prints an odds ratio, which has no bound above.
func ratio(f outcome.Figure) string {
	if math.IsInf(float64(f), 1) {
		return "∞"
	}
	return figure(f, "%.2f")
}

func degrees(df *int) string {
	if df == nil {
		return ""
	}
	return fmt.Sprint(*df)
}

func figure(f outcome.Figure, format string) string {
	if !f.Known() {
		return "–"
	}
	s := fmt.Sprintf(format, float64(f))
	if strings.Trim(s, "-0.") == "" { // no minus before nothing
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

// pValue prints a chance; very small ones as such.
func pValue(p outcome.Figure) string {
	if p.Known() && p < 0.0001 {
		return "<0.0001"
	}
	return figure(p, "%.4f")
}
