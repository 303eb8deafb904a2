package sheet

import (
	"cmp"
	"math"
	"slices"
	"unicode"

	"hatchlore/ingest/line"
	"hatchlore/ingest/pdf"
)

// Sheet is a page on its way into the text.
type Sheet struct {
	Page          *pdf.Page
	width, Height float64
	Strips        []*line.Strip // in reading order
	gutter        float64       // the middle of the gap between two columns, 0 for one column
	Body          float64       // usual type size
	Leading       float64       // usual distance of baselines
	Codes         line.Codes    // what the codes of unmapped characters are worth
	Unshifted     bool          // its codes were glyph numbers and are characters now
}

// findGutter looks for the empty band that parts two columns: many strips end
// before it, many begin after it, and few cross it.
func (p *Sheet) findGutter() {
	best, bestScore := 0.0, 0
	strips, gapped := p.level()
	var starts []float64
	for x := 0.3 * p.width; x <= 0.7*p.width; x += 2 {
		left, right, cross := 0, 0, 0
		starts = starts[:0]
		for i, s := range strips {
			switch n := len(s.Glyphs); {
			case s.X1 < x-1:
				left += min(n, 60)
			case s.X0 > x+1:
				right += min(n, 60)
				starts = append(starts, s.X0)
			case gapped[i] && isTwin(s, s.GapAt(x)):
				starts = append(starts, s.Glyphs[s.GapAt(x)].X1)
				left += min(n/2, 60)
				right += min(n/2, 60)
			default:
				cross += min(n, 120)
			}
		}
		// Both sides need text of their own, a tenth of the page at least.
		if side := min(left, right); side > 300 && cross < (left+right+cross)/3 && flush(starts) {
			if score := side*2 - cross; score > bestScore {
				best, bestScore = x, score
			}
		}
	}
	if !tabular(strips, best) {
		p.gutter = best
	}
}

// proseStarts is the share of lines in columns that begin with a small letter, at the
// least: half of them in prose, a third in lists of references, hardly any cells.
const proseStarts = 0.25

// tabular reports whether what stands on either side of x is mostly cells of a table
// with two columns of words: strips over x, whose halves begin as sentences do.
func tabular(strips []*line.Strip, x float64) bool {
	over, beside, small := 0, 0, 0
	for _, s := range strips {
		i := s.GapAt(x)
		if i < 0 {
			beside++
			continue
		}
		over++
		for _, g := range []line.Glyph{s.Glyphs[0], s.Glyphs[i+1]} {
			if unicode.IsLower(g.Rune) {
				small++
			}
		}
	}
	return over > beside && float64(small) < proseStarts*float64(2*over)
}

// Lines of two columns that the file draws as one have so many characters each, and
// are so many times as wide as the gap between them; rows of a table are seldom both.
const (
	twinGlyphs = 20
	twinWidth  = 1.5
)

// isTwin reports whether a strip is two lines of columns side by side, parted by its
// i-th glyph, rather than a row of a table.
func isTwin(s *line.Strip, i int) bool {
	if i < twinGlyphs || len(s.Glyphs)-1-i < twinGlyphs {
		return false
	}
	gap := s.Glyphs[i]
	return min(gap.X0-s.X0, s.X1-gap.X1) >= twinWidth*(gap.X1-gap.X0)
}

// level returns the strips of the text proper, and which of them have cell gaps.
func (p *Sheet) level() (strips []*line.Strip, gapped []bool) {
	for _, s := range p.Strips {
		if !s.Sideways && !s.Furniture {
			strips, gapped = append(strips, s), append(gapped, s.Gaps() > 0)
		}
	}
	return strips, gapped
}

// flush reports whether most lines start at one edge, as a column's do.
func flush(starts []float64) bool {
	counts := map[int]int{}
	for _, x := range starts {
		counts[int(x/4)]++
		counts[int(x/4)+1]++
	}
	return 2*counts[line.Commonest(counts)] >= len(starts)
}

// splitColumns cuts strips that run over the gutter. A table may span both
// columns: there, strips above and below run across too, and nothing is cut.
func (p *Sheet) splitColumns() {
	if p.gutter == 0 {
		return
	}
	var out []*line.Strip
	for k, s := range p.Strips {
		i := s.GapAt(p.gutter)
		if i < 0 || s.Sideways || s.Furniture || s.Gaps() > 1 || p.besideRow(k) || p.amongRows(k) {
			out = append(out, s)
			continue
		}
		l, r := s.Split(i)
		out = append(out, l, r)
	}
	p.Strips = out
}

// What stands about a strip with one gap, over the gutter, tells whether it is a row of
// a table with two columns: so many of the strips nearest to it are such, and none is
// two lines of columns. The last lines of paragraphs are short, too.
const (
	rowReach  = 3
	rowsAbout = 3
)

// amongRows reports whether the k-th strip is a row of a table with two columns.
func (p *Sheet) amongRows(k int) bool {
	rows := 0
	for _, s := range p.Strips[max(0, k-rowReach):min(len(p.Strips), k+rowReach+1)] {
		switch i := s.GapAt(p.gutter); {
		case i < 0 || s.Furniture:
		case isTwin(s, i):
			return false
		default:
			rows++
		}
	}
	return rows >= rowsAbout
}

// besideRow reports whether the k-th strip stands next to a row of a table that
// spans both columns: heads and short rows may have one gap alone.
func (p *Sheet) besideRow(k int) bool {
	s := p.Strips[k]
	for _, j := range []int{k - 1, k + 1} {
		if j < 0 || j >= len(p.Strips) {
			continue
		}
		o := p.Strips[j]
		if apart := math.Abs(o.Base - s.Base); apart > 0.4*s.Size && apart < 2.2*s.Size && o.Gaps() > 1 && o.X0 < p.gutter && o.X1 > p.gutter {
			return true
		}
	}
	return false
}

// order puts strips into reading order. The order of the file is kept where it
// runs down the columns, as it does in nearly all typeset papers; where it
// jumps about, strips are sorted within their columns.
func (p *Sheet) order() {
	jumps, steps := 0, 0
	var prev *line.Strip
	for _, s := range p.Strips {
		if s.Sideways || s.Furniture {
			continue
		}
		if prev != nil {
			steps++
			if up := s.Base < prev.Base-2*s.Size && s.X0 < prev.X1 && s.X1 > prev.X0; up || p.Column(s) < p.Column(prev) {
				jumps++
			}
		}
		prev = s
	}
	if jumps < 6 || jumps*3 < steps {
		return
	}
	slices.SortStableFunc(p.Strips, func(a, b *line.Strip) int {
		if c := cmp.Compare(p.band(a), p.band(b)); c != 0 {
			return c
		}
		if c := cmp.Compare(p.Column(a), p.Column(b)); c != 0 {
			return c
		}
		if d := a.Base - b.Base; d < -0.4*a.Size || d > 0.4*a.Size {
			return cmp.Compare(a.Base, b.Base)
		}
		return cmp.Compare(a.X0, b.X0)
	})
	p.rejoin()
}

// Column returns 0 for the left or only column, 1 for the right one.
func (p *Sheet) Column(s *line.Strip) int {
	if p.gutter > 0 && s.X0 > p.gutter-2 {
		return 1
	}
	return 0
}

// band parts the page at strips that cross the gutter: what stands above them
// is read, in all columns, before what stands below.
func (p *Sheet) band(s *line.Strip) int {
	if p.gutter == 0 {
		return 0
	}
	n := 0
	for _, c := range p.Strips {
		if crosses(c, p.gutter) && c.Base < s.Base-0.5*s.Size {
			n++
		}
	}
	return n
}

func crosses(s *line.Strip, x float64) bool {
	return !s.Sideways && !s.Furniture && s.X0 < x-10 && s.X1 > x+10
}

// rejoin puts the pieces of a line together that the file drew apart.
func (p *Sheet) rejoin() {
	var out []*line.Strip
	for _, s := range p.Strips {
		if n := len(out); n > 0 && !s.Sideways && !out[n-1].Sideways && !s.Furniture && !out[n-1].Furniture &&
			p.Column(s) == p.Column(out[n-1]) && out[n-1].Takes(&s.Glyphs[0]) && s.X0 > out[n-1].X1-1 {
			out[n-1].Absorb(s)
			continue
		}
		out = append(out, s)
	}
	p.Strips = out
}

// measure finds the page's usual type size and leading.
func (p *Sheet) measure() {
	sizes := map[int]int{}
	for _, s := range p.Strips {
		if !s.Furniture && !s.Sideways {
			sizes[int(s.Size*4+.5)] += len(s.Glyphs)
		}
	}
	p.Body = float64(line.Commonest(sizes)) / 4
	steps := map[int]int{}
	for i := 1; i < len(p.Strips); i++ {
		a, b := p.Strips[i-1], p.Strips[i]
		if d := b.Base - a.Base; d > 0.5*b.Size && d < 3*b.Size && b.X0 < a.X1 && a.X0 < b.X1 && line.Near(b.Size, p.Body, .1) {
			steps[int(d*2+.5)]++
		}
	}
	if p.Leading = float64(line.Commonest(steps)) / 2; p.Leading == 0 {
		p.Leading = 1.2 * p.Body
	}
}
