package outcome

import (
	"cmp"
	"fmt"
	"html"
	"io"
	"maps"
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
	p := plot{treatments: r.Treatments}
	names := r.factorNames()
	for _, t := range r.Treatments {
		name := t.words(names)
		p.names = append(p.names, html.EscapeString(name))
		p.left = max(p.left, plotGlyph*utf8.RuneCountInString(name))
	}
	p.left += 2 * plotMargin
	p.open()
	p.axis()
	for i := range r.Treatments {
		p.row(i)
	}
	p.WriteString("</svg>\n")
	_, err := io.WriteString(w, p.String())
	return err
}

// factorNames returns the factors of the treatments in the order of factors,
// columns of other tables by name.
func (r *Result) factorNames() []string {
	names := slices.Collect(maps.Keys(r.Treatments[0].Levels))
	slices.SortFunc(names, func(a, b string) int {
		return cmp.Or(evidence.Factor(a).Order()-evidence.Factor(b).Order(), strings.Compare(a, b))
	})
	return names
}

// plot is a picture in the making.
type plot struct {
	strings.Builder
	treatments []TreatmentResult
	names      []string // escaped
	left       int      // where the axis begins
}

func (p *plot) x(share float64) float64 { return float64(p.left) + plotAxis*share }

// open begins the picture and says it in words.
func (p *plot) open() {
	width, height := p.left+plotAxis+2*plotMargin+90, plotRow*(len(p.names)+3)
	fmt.Fprintf(p, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" role="img" aria-labelledby="plot-title plot-desc" font-family="sans-serif" font-size="12" fill="currentColor" stroke="none">`+"\n", width, height)
	p.WriteString("<title id=\"plot-title\">Hatched fraction by treatment</title>\n<desc id=\"plot-desc\">")
	for i, t := range p.treatments {
		fmt.Fprintf(p, "%s: %d of %d eggs, %.0f %% (95 %% interval %.0f to %.0f). ", p.names[i], t.Hatched, t.Eggs, 100*t.Fraction, 100*t.Low, 100*t.High)
	}
	p.WriteString("</desc>\n")
}

func (p *plot) axis() {
	bottom := plotRow * (len(p.names) + 1)
	for percent := 0; percent <= 100; percent += 25 {
		at := p.x(float64(percent) / 100)
		fmt.Fprintf(p, `<line x1="%.1f" y1="%d" x2="%.1f" y2="%d" stroke="currentColor" stroke-opacity="0.25"/><text x="%.1f" y="%d" text-anchor="middle">%d %%</text>`+"\n",
			at, plotRow/2, at, bottom, at, bottom+plotRow/2+4, percent)
	}
	fmt.Fprintf(p, `<text x="%d" y="%d" font-size="10">lines: 95 %% Wilson intervals, every egg taken by itself</text>`+"\n", p.left, bottom+plotRow+plotRow/2)
}

// row draws a treatment: a square for untreated eggs, a dot for the others.
func (p *plot) row(i int) {
	t, y := p.treatments[i], plotRow*(i+1)
	fmt.Fprintf(p, `<text x="%d" y="%d" text-anchor="end">%s</text>`, p.left-plotMargin, y+4, p.names[i])
	fmt.Fprintf(p, `<line x1="%.1f" y1="%d" x2="%.1f" y2="%d" stroke="currentColor" stroke-width="2"/>`, p.x(t.Low), y, p.x(t.High), y)
	if t.Control {
		fmt.Fprintf(p, `<rect x="%.1f" y="%d" width="9" height="9"/>`, p.x(t.Fraction)-4.5, y-4)
	} else {
		fmt.Fprintf(p, `<circle cx="%.1f" cy="%d" r="5"/>`, p.x(t.Fraction), y)
	}
	fmt.Fprintf(p, `<text x="%d" y="%d">%d/%d</text>`+"\n", p.left+plotAxis+plotMargin, y+4, t.Hatched, t.Eggs)
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
