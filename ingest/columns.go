package ingest

import (
	"cmp"
	"math"
	"slices"
)

// sheet is a page on its way into the text.
type sheet struct {
	width, height float64
	strips        []*strip // in reading order
	gutter        float64  // the middle of the gap between two columns, 0 for one column
	body          float64  // usual type size
	leading       float64  // usual distance of baselines
	pictures      float64
	err           string
	scanned       bool
	unpictured    string // why OCR was of no help
	codes         codeKind
	number        int
	unshifted     bool // its codes were glyph numbers and are characters now
	references    bool // the list of references has begun
}

// findGutter looks for the empty band that parts two columns: many strips end
// before it, many begin after it, and few cross it.
func (p *sheet) findGutter() {
	best, bestScore := 0.0, 0
	strips, gapped := p.level()
	var starts []float64
	for x := 0.3 * p.width; x <= 0.7*p.width; x += 2 {
		left, right, cross := 0, 0, 0
		starts = starts[:0]
		for i, s := range strips {
			switch n := len(s.glyphs); {
			case s.x1 < x-1:
				left += min(n, 60)
			case s.x0 > x+1:
				right += min(n, 60)
				starts = append(starts, s.x0)
			case gapped[i] && s.gapAt(x) >= 0:
				starts = append(starts, s.glyphs[s.gapAt(x)].x1)
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
	p.gutter = best
}

// level returns the strips of the text proper, and which of them have cell gaps.
func (p *sheet) level() (strips []*strip, gapped []bool) {
	for _, s := range p.strips {
		if !s.sideways && !s.furn {
			strips, gapped = append(strips, s), append(gapped, s.gaps() > 0)
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
	return 2*counts[mode(counts)] >= len(starts)
}

// gapAt returns the index of the cell gap that lies across x, -1 for none.
func (s *strip) gapAt(x float64) int {
	for i := range s.glyphs {
		if g := &s.glyphs[i]; g.r == '\t' && g.x0 < x && g.x1 > x {
			return i
		}
	}
	return -1
}

// splitColumns cuts strips that run over the gutter. A table may span both
// columns: there, strips above and below run across too, and nothing is cut.
func (p *sheet) splitColumns() {
	if p.gutter == 0 {
		return
	}
	var out []*strip
	for k, s := range p.strips {
		i := s.gapAt(p.gutter)
		if i < 0 || s.sideways || s.furn || s.gaps() > 1 || p.besideRow(k) {
			out = append(out, s)
			continue
		}
		l, r := s.split(i)
		out = append(out, l, r)
	}
	p.strips = out
}

// besideRow reports whether the k-th strip stands next to a row of a table that
// spans both columns: heads and short rows may have one gap alone.
func (p *sheet) besideRow(k int) bool {
	s := p.strips[k]
	for _, j := range []int{k - 1, k + 1} {
		if j < 0 || j >= len(p.strips) {
			continue
		}
		o := p.strips[j]
		if apart := math.Abs(o.base - s.base); apart > 0.4*s.size && apart < 2.2*s.size && o.gaps() > 1 && o.x0 < p.gutter && o.x1 > p.gutter {
			return true
		}
	}
	return false
}

// gaps counts the cell gaps of the strip.
func (s *strip) gaps() int {
	n := 0
	for i := range s.glyphs {
		if s.glyphs[i].r == '\t' {
			n++
		}
	}
	return n
}

// order puts strips into reading order. The order of the file is kept where it
// runs down the columns, as it does in nearly all typeset papers; where it
// jumps about, strips are sorted within their columns.
func (p *sheet) order() {
	jumps, steps := 0, 0
	var prev *strip
	for _, s := range p.strips {
		if s.sideways || s.furn {
			continue
		}
		if prev != nil {
			steps++
			if up := s.base < prev.base-2*s.size && s.x0 < prev.x1 && s.x1 > prev.x0; up || p.column(s) < p.column(prev) {
				jumps++
			}
		}
		prev = s
	}
	if jumps < 6 || jumps*3 < steps {
		return
	}
	slices.SortStableFunc(p.strips, func(a, b *strip) int {
		if c := cmp.Compare(p.band(a), p.band(b)); c != 0 {
			return c
		}
		if c := cmp.Compare(p.column(a), p.column(b)); c != 0 {
			return c
		}
		if d := a.base - b.base; d < -0.4*a.size || d > 0.4*a.size {
			return cmp.Compare(a.base, b.base)
		}
		return cmp.Compare(a.x0, b.x0)
	})
	p.rejoin()
}

// column returns 0 for the left or only column, 1 for the right one.
func (p *sheet) column(s *strip) int {
	if p.gutter > 0 && s.x0 > p.gutter-2 {
		return 1
	}
	return 0
}

// band parts the page at strips that cross the gutter: what stands above them
// is read, in all columns, before what stands below.
func (p *sheet) band(s *strip) int {
	if p.gutter == 0 {
		return 0
	}
	n := 0
	for _, c := range p.strips {
		if c.crosses(p.gutter) && c.base < s.base-0.5*s.size {
			n++
		}
	}
	return n
}

func (s *strip) crosses(x float64) bool {
	return !s.sideways && !s.furn && s.x0 < x-10 && s.x1 > x+10
}

// rejoin puts the pieces of a line together that the file drew apart.
func (p *sheet) rejoin() {
	var out []*strip
	for _, s := range p.strips {
		if n := len(out); n > 0 && !s.sideways && !out[n-1].sideways && !s.furn && !out[n-1].furn &&
			p.column(s) == p.column(out[n-1]) && out[n-1].takes(&s.glyphs[0]) && s.x0 > out[n-1].x1-1 {
			out[n-1].absorb(s)
			continue
		}
		out = append(out, s)
	}
	p.strips = out
}

// absorb puts o behind s.
func (s *strip) absorb(o *strip) {
	s.add(o.glyphs[0], spaceLineEnd)
	s.glyphs = append(s.glyphs, o.glyphs[1:]...)
	s.x1, s.top, s.bottom = max(s.x1, o.x1), min(s.top, o.top), max(s.bottom, o.bottom)
	s.settle()
}

// measure finds the page's usual type size and leading.
func (p *sheet) measure() {
	sizes := map[int]int{}
	for _, s := range p.strips {
		if !s.furn && !s.sideways {
			sizes[int(s.size*4+.5)] += len(s.glyphs)
		}
	}
	p.body = float64(mode(sizes)) / 4
	steps := map[int]int{}
	for i := 1; i < len(p.strips); i++ {
		a, b := p.strips[i-1], p.strips[i]
		if d := b.base - a.base; d > 0.5*b.size && d < 3*b.size && b.x0 < a.x1 && a.x0 < b.x1 && near(b.size, p.body, .1) {
			steps[int(d*2+.5)]++
		}
	}
	if p.leading = float64(mode(steps)) / 2; p.leading == 0 {
		p.leading = 1.2 * p.body
	}
}

// mode returns the key with the highest count, the smallest of several, 0 for
// an empty map.
func mode(counts map[int]int) int {
	best, n := 0, 0
	for k, c := range counts {
		if c > n || c == n && k < best {
			best, n = k, c
		}
	}
	return best
}

// near reports whether a is within the given share of b.
func near(a, b, share float64) bool { return a >= b*(1-share) && a <= b*(1+share) }
