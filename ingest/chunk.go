package ingest

import (
	"math"
	"slices"
	"strings"
	"unicode"
)

// chunk is a block on its way into the text.
type chunk struct {
	kind    BlockKind
	section Section
	strips  []*strip
	table   *grid // of a table
}

// text returns the chunk's text roughly, for telling what it is.
func (c *chunk) text() string {
	var b strings.Builder
	for i, s := range c.strips {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(s.text)
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

func (c *chunk) first() *strip { return c.strips[0] }
func (c *chunk) last() *strip  { return c.strips[len(c.strips)-1] }

// left returns the left edge of the chunk, its first line set aside when there
// are others.
func (c *chunk) left() float64 {
	x := c.strips[len(c.strips)-1].x0
	for _, s := range c.strips[1:] {
		x = min(x, s.x0)
	}
	return x
}

func (c *chunk) bold() bool {
	return !slices.ContainsFunc(c.strips, func(s *strip) bool { return !s.bold })
}

func (c *chunk) italic() bool {
	return c.first().startsItalic() && !slices.ContainsFunc(c.strips, func(s *strip) bool { return !s.italic })
}

func (c *chunk) size() float64 { return c.first().size }

// chunks groups the strips of a page into blocks without kind, tables apart.
func (p *sheet) chunks() []*chunk {
	var out []*chunk
	var cur *chunk
	for i := 0; i < len(p.strips); {
		if g, n := p.tableAt(i); g != nil {
			t := &chunk{kind: Table, strips: slices.Clone(p.strips[i : i+n]), table: g}
			out = append(p.takeHeads(out, t), t)
			i, cur = i+n, nil
			continue
		}
		s := p.strips[i]
		i++
		if section, named := sectionOf(s.text); named && len(s.cells) == 1 {
			p.references = section == SectionReferences
			out = append(out, &chunk{kind: Heading, strips: []*strip{s}})
			cur = nil
			continue
		}
		if cur != nil && p.joins(cur, s) {
			cur.strips = append(cur.strips, s)
			continue
		}
		if head, rest := p.runInHeading(s); head != nil {
			out = append(out, &chunk{kind: Heading, strips: []*strip{head}})
			s = rest
		}
		cur = &chunk{kind: Paragraph, strips: []*strip{s}}
		out = append(out, cur)
	}
	return out
}

// Distances between lines of one block, common practice.
const (
	looseLine = 1.45 // more than this many leadings apart: another block
	indentMin = 0.7  // a first line stands in by at least this much of its size
	indentMax = 6.0
	sizeStep  = 0.08 // sizes that differ by more are different type
)

// joins reports whether s is the next line of the block.
func (p *sheet) joins(c *chunk, s *strip) bool {
	prev := c.last()
	if s.sideways || prev.sideways || !near(s.size, prev.size, sizeStep) {
		return false
	}
	down := s.base - prev.base
	if down < -0.4*s.size {
		return false
	}
	if down <= 0.4*s.size {
		return s.x0 >= prev.x1-s.size && s.x0-prev.x1 < cellGap*s.size
	}
	if down > p.reach(c, s) || s.x0 >= prev.x1 || prev.x0 >= s.x1 {
		return false
	}
	if s.bold != prev.bold && (len(s.glyphs) > 3 && len(prev.glyphs) > 3) {
		return false
	}
	return !p.opens(c, prev, s) && !p.headsBelow(c, s) && !p.headedBy(prev, s)
}

// reach is how far below the block its next line may stand.
func (p *sheet) reach(c *chunk, s *strip) float64 {
	step := p.leading * max(1, s.size/max(p.body, 1))
	if n := len(c.strips); n >= 2 {
		if d := c.strips[n-1].base - c.strips[n-2].base; d > 0.8*s.size && d < step {
			step = d
		}
	}
	return looseLine * step
}

// opens reports whether s opens a new paragraph or list entry below prev.
func (p *sheet) opens(c *chunk, prev, s *strip) bool {
	indent := s.x0 - c.left()
	step := indentMin * s.size
	if len(c.strips) == 1 && prev.x0 > s.x0+step && p.centred(prev) && s.x1 > p.rightEdge(s)-s.size {
		return true
	}
	if s.x0 > prev.x0+step && strings.ToUpper(s.text) == s.text && p.centred(s) && !p.centred(prev) {
		return true
	}
	if len(c.strips) >= 2 {
		if indent > step && indent < indentMax*s.size && prev.x0-c.left() < 0.3*s.size {
			return true
		}
		hanging := c.strips[1].x0 - c.first().x0
		if hanging > step && s.x0-c.first().x0 < 0.3*s.size {
			return true
		}
	}
	short := prev.x1 < p.rightEdge(prev)-3*s.size
	return short && endsSentence(prev.text) && unicode.IsUpper(firstLetter(s.text)) && (indent > step || len(c.strips) >= 2 || prev.x1 < p.rightEdge(prev)-8*s.size)
}

// centred reports whether a line stands in the middle of its column, far from
// either edge: a heading above text that fills its lines.
func (p *sheet) centred(s *strip) bool {
	left, right := s.x0-p.leftEdge(s), p.rightEdge(s)-s.x1
	return min(left, right) > indentMax*s.size && math.Abs(left-right) < 2*s.size
}

// leftEdge returns where lines of the strip's column usually begin.
func (p *sheet) leftEdge(s *strip) float64 {
	starts := map[int]int{}
	for _, o := range p.strips {
		if !o.sideways && o.x1 > s.x0 && o.x0 < s.x1 && p.column(o) == p.column(s) {
			starts[int(o.x0/3)]++
		}
	}
	return 3 * float64(mode(starts))
}

// rightEdge returns where lines of the strip's column usually end.
func (p *sheet) rightEdge(s *strip) float64 {
	ends := map[int]int{}
	for _, o := range p.strips {
		if !o.sideways && o.x1 > s.x0+10 && o.x0 < s.x1 && p.column(o) == p.column(s) {
			ends[int(o.x1/3)]++
		}
	}
	return 3 * float64(mode(ends)+1)
}

func endsSentence(text string) bool {
	t := strings.TrimRight(text, " )]”’\"'»⁰¹²³⁴⁵⁶⁷⁸⁹")
	return strings.HasSuffix(t, ".") || strings.HasSuffix(t, "?") || strings.HasSuffix(t, "!") || strings.HasSuffix(t, ":")
}

func firstLetter(text string) rune {
	for _, r := range text {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
	}
	return 0
}
