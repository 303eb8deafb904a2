package sheet

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"hatchlore/ingest/heading"
	"hatchlore/ingest/line"
)

// recurShare is the share of pages on which a line must recur to be a running
// head or foot.
const recurShare = 0.4

// edge is the share of the page's height, at the top and at the bottom, in
// which a paper of two pages may have running heads and feet.
const edge = 0.09

// maxFurniture bounds a running head, in characters; rows of dots are long.
const maxFurniture = 400

// place is where a line stands, and what it says with its digits masked: the
// number of that text among those of the paper.
type place struct{ text, x, y int }

// standing is where a line may be said to stand: the cells of a coarse grid
// about it, two a direction, so that neighbours by a hair share one.
type standing [4]place

// recurrence counts the pages on which a line was seen; last is the latest.
type recurrence struct{ pages, last int }

// markFurniture finds running heads and feet: lines that stand at the same
// place with the same words, digits apart, on many pages, and page numbers
// alone at the edge of the page.
func markFurniture(sheets []*Sheet) {
	seen := map[place]recurrence{}
	stand := map[*line.Strip]standing{}
	texts := map[string]int{}
	for i, p := range sheets {
		for _, s := range p.Strips {
			text := masked(s)
			if text == "" || len(s.Glyphs) > maxFurniture {
				continue
			}
			number, known := texts[text]
			if !known {
				number = len(texts)
				texts[text] = number
			}
			at := places(p, s, text, number)
			stand[s] = at
			for _, k := range at {
				if r := seen[k]; r.pages == 0 || r.last != i {
					seen[k] = recurrence{r.pages + 1, i}
				}
			}
		}
	}
	need := max(3, int(math.Ceil(recurShare*float64(len(sheets)))))
	for _, p := range sheets {
		for _, s := range p.Strips {
			n := 0
			if at, stands := stand[s]; stands {
				for _, k := range at {
					n = max(n, seen[k].pages)
				}
			}
			s.Furniture = (n >= need || p.atEdge(s) && n >= 2 && 5*n >= 2*len(sheets)) && !p.inTable(s)
		}
		p.markNumbers()
		p.markBesideNumber()
	}
}

// inTable reports whether a line that recurs is part of a table: tables that go on from
// page to page, or follow one another, have heads and rows of one form at one place.
func (p *Sheet) inTable(s *line.Strip) bool {
	numbers := strings.Trim(masked(s), "#.,·±–−-+()%<>*") == ""
	rows := s.Gaps() > 0 && p.amidRows(s)
	switch {
	case s.Sideways:
		return false
	case p.atEdge(s):
		return numbers && rows
	case numbers && s.Gaps() == 0 && p.outermost(s):
		return false // a page number far from the edge
	}
	return numbers || rows || heading.IsLabelled(line.Spell(s.Glyphs))
}

// outermost reports whether no line stands farther from the middle of the page.
func (p *Sheet) outermost(s *line.Strip) bool {
	return !slices.ContainsFunc(p.Strips, func(o *line.Strip) bool {
		return !o.Sideways && math.Abs(o.Base-p.Height/2) > math.Abs(s.Base-p.Height/2)+s.Size && (o.Base < p.Height/2) == (s.Base < p.Height/2)
	})
}

// markNumbers marks page numbers at the edge, alone or with a running head that
// does not recur. A number nearer to the text than another running head is the
// label of an axis.
func (p *Sheet) markNumbers() {
	var numbers []*line.Strip
	for _, s := range p.Strips {
		if !s.Furniture && p.atEdge(s) && (pageNumber(s) || numberedHead(s) && !p.amidRows(s)) {
			numbers = append(numbers, s)
		}
	}
	// From the edges inwards.
	slices.SortStableFunc(numbers, func(a, b *line.Strip) int {
		return cmp.Compare(min(a.Base, p.Height-a.Base), min(b.Base, p.Height-b.Base))
	})
	for _, s := range numbers {
		s.Furniture = !slices.ContainsFunc(p.Strips, func(o *line.Strip) bool { return o.Furniture && p.farther(o, s) })
	}
}

// amidRows reports whether another line with gaps stands next to a line: it is the last
// row, or the first, of a table that reaches to the edge of the page.
func (p *Sheet) amidRows(s *line.Strip) bool {
	return slices.ContainsFunc(p.Strips, func(o *line.Strip) bool {
		apart := math.Abs(o.Base - s.Base)
		return !o.Sideways && o.Gaps() > 0 && apart > 0.4*s.Size && apart < 2.2*s.Size
	})
}

// farther reports whether o stands a line or more farther out than s, at the
// same edge of the page.
func (p *Sheet) farther(o, s *line.Strip) bool {
	if o.Sideways || !p.atEdge(o) {
		return false
	}
	if s.Base < p.Height/2 {
		return o.Base < s.Base-0.8*s.Size
	}
	return o.Base > s.Base+0.8*s.Size
}

// numberedHead reports whether a line at the edge has a page number set apart at
// one of its ends.
func numberedHead(s *line.Strip) bool {
	text := masked(s)
	return s.Gaps() > 0 && (strings.HasPrefix(text, "#") && digitsTo(s, 1) || strings.HasSuffix(text, "#") && digitsTo(s, -1))
}

// digitsTo reports whether the strip's first cell, or with -1 its last, is a
// number of at most four digits.
func digitsTo(s *line.Strip, step int) bool {
	i := 0
	if step < 0 {
		i = len(s.Glyphs) - 1
	}
	for n := 0; n <= 4 && i >= 0 && i < len(s.Glyphs); n, i = n+1, i+step {
		r := s.Glyphs[i].Rune
		if r == '\t' {
			return n > 0
		}
		if r < '0' || r > '9' {
			return false
		}
	}
	return false
}

// markBesideNumber marks what stands at the page's edge on one line with a page
// number.
func (p *Sheet) markBesideNumber() {
	for _, n := range p.Strips {
		if !n.Furniture || !pageNumber(n) {
			continue
		}
		for _, s := range p.Strips {
			if p.atEdge(s) && s.Base > n.Base-3 && s.Base < n.Base+3 {
				s.Furniture = true
			}
		}
	}
}

// places returns where a strip stands whose masked text has the given number.
func places(p *Sheet, s *line.Strip, text string, number int) (at standing) {
	const grid = 6
	y := s.Base
	if s.Sideways {
		y = s.Top
	}
	// Feet are measured from the bottom: papers mix page sizes.
	if y > p.Height/2 {
		y -= p.Height
	}
	x := s.X0
	if strings.Trim(text, "#") == "" {
		x = 0 // page numbers change sides
	}
	for i := range at {
		dx, dy := float64(i%2)*grid/2, float64(i/2)*grid/2
		at[i] = place{number, int(math.Floor((x + dx) / grid)), int(math.Floor((y + dy) / grid))}
	}
	return at
}

// masked returns the strip's letters, with each run of digits as one mark.
func masked(s *line.Strip) string {
	var b strings.Builder
	b.Grow(len(s.Glyphs))
	digit := false
	for i := range s.Glyphs {
		r := s.Glyphs[i].Rune
		switch {
		case r >= '0' && r <= '9':
			if !digit {
				b.WriteByte('#')
			}
			digit = true
		case r == ' ' || r == '\t':
			digit = false
		default:
			b.WriteRune(r)
			digit = false
		}
	}
	return b.String()
}

func (p *Sheet) atEdge(s *line.Strip) bool {
	return !s.Sideways && (s.Base < edge*p.Height || s.Base > (1-edge)*p.Height)
}

// pageNumber reports whether the strip is a number alone, perhaps with its
// word, as at the foot of a page.
func pageNumber(s *line.Strip) bool {
	t := strings.Trim(masked(s), "-–—|()[].")
	switch strings.ToLower(t) {
	case "#", "page#", "p.#", "seite#", "s.#", "página#", "pagina#", "#of#", "page#of#", "#/#":
		return len(s.Glyphs) <= 16
	}
	return false
}

// markUnseen takes what cannot be seen out of the text of a page that has print. A
// page without is a scan with its text layer, or lettering drawn as outlines.
func (p *Sheet) markUnseen() {
	if p.Census().HiddenShare() > 0.5 {
		return
	}
	for _, s := range p.Strips {
		s.Furniture = s.Furniture || s.Hidden
	}
}
