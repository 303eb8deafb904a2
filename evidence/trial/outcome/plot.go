package outcome

import (
	"fmt"
	"html"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"hatchlore/evidence"
)

// Measures of the plot, in SVG units.
const (
	plotRow    = 26
	plotAxis   = 420 // width of 0 to 100 %
	plotMargin = 16
	plotGlyph  = 7 // width allowed for a letter of a label
)

// WritePlot draws the hatched fraction of every treatment with its Wilson
// interval as an SVG picture that a screen reader can read out as well.
func (r *Result) WritePlot(w io.Writer) error {
	if len(r.Treatments) == 0 {
		return fmt.Errorf("the result has no treatments to draw")
	}
	var names []string
	for n := range r.Treatments[0].Levels {
		names = append(names, n)
	}
	slices.SortFunc(names, func(a, b string) int {
		if d := evidence.Factor(a).Order() - evidence.Factor(b).Order(); d != 0 {
			return d
		}
		return strings.Compare(a, b)
	})
	var rows []string
	left := 0
	for _, t := range r.Treatments {
		row := t.words(names)
		rows = append(rows, row)
		left = max(left, plotGlyph*utf8.RuneCountInString(row))
	}
	left += 2 * plotMargin
	width, height := left+plotAxis+2*plotMargin+90, plotRow*(len(rows)+2)
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" role="img" aria-labelledby="plot-title plot-desc" font-family="sans-serif" font-size="12" fill="currentColor" stroke="none">`+"\n", width, height)
	b.WriteString("<title id=\"plot-title\">Hatched fraction by treatment</title>\n<desc id=\"plot-desc\">")
	for i, t := range r.Treatments {
		fmt.Fprintf(&b, "%s: %d of %d eggs, %.0f %% (95 %% interval %.0f to %.0f). ", html.EscapeString(rows[i]), t.Hatched, t.Eggs, 100*t.Fraction, 100*t.Low, 100*t.High)
	}
	b.WriteString("</desc>\n")
	x := func(f float64) float64 { return float64(left) + plotAxis*f }
	bottom := plotRow * (len(rows) + 1)
	for p := 0; p <= 100; p += 25 {
		at := x(float64(p) / 100)
		fmt.Fprintf(&b, `<line x1="%.1f" y1="%d" x2="%.1f" y2="%d" stroke="currentColor" stroke-opacity="0.25"/><text x="%.1f" y="%d" text-anchor="middle">%d %%</text>`+"\n",
			at, plotRow/2, at, bottom, at, bottom+plotRow/2+4, p)
	}
	for i, t := range r.Treatments {
		y := plotRow * (i + 1)
		fmt.Fprintf(&b, `<text x="%d" y="%d" text-anchor="end">%s</text>`, left-plotMargin, y+4, html.EscapeString(rows[i]))
		fmt.Fprintf(&b, `<line x1="%.1f" y1="%d" x2="%.1f" y2="%d" stroke="currentColor" stroke-width="2"/>`, x(t.Low), y, x(t.High), y)
		if t.Control {
			fmt.Fprintf(&b, `<rect x="%.1f" y="%d" width="9" height="9"/>`, x(t.Fraction)-4.5, y-4)
		} else {
			fmt.Fprintf(&b, `<circle cx="%.1f" cy="%d" r="5"/>`, x(t.Fraction), y)
		}
		fmt.Fprintf(&b, `<text x="%d" y="%d">%d/%d</text>`+"\n", left+plotAxis+plotMargin, y+4, t.Hatched, t.Eggs)
	}
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// words names a treatment by its levels.
func (t TreatmentResult) words(names []string) string {
	var out []string
	for _, n := range names {
		f := evidence.Factor(n)
		out = append(out, f.Label()+" "+t.Levels[n].In(f.Unit()))
	}
	s := strings.Join(out, ", ")
	switch {
	case t.Control:
		return "untreated: " + s
	case s == "":
		return "all dishes"
	}
	return s
}
