package ingest

import (
	"strings"
	"unicode"
)

// Headings in the size of the text are known by their face alone. Bold type is
// rare in running text. Italics are not: names of species open sentences. So an
// italic heading must also stand off, by a stop, a wide gap or a line of its own;
// and a list of references, with its titles in italics, has none.

// maxRunIn bounds a run-in heading, in characters.
const maxRunIn = 80

// quadGap is the narrowest gap, in sizes, that sets a run-in heading off from
// its text; the space between words is seldom half as wide.
const quadGap = 0.9

// runInHeading parts a heading from the text that goes on behind it on the same
// line. It returns nil when there is none.
func (p *sheet) runInHeading(s *strip) (head, rest *strip) {
	if s.sideways || len(s.cells) > 1 || !unicode.IsUpper(firstLetter(s.text)) || captionStart.MatchString(s.text) {
		return nil, nil
	}
	var end, next int
	switch {
	case !s.bold && s.startsBold():
		end, next = s.faceEnds(func(g *glyph) bool { return g.bold })
	case !s.italic && s.startsItalic() && !p.references:
		if end, next = s.faceEnds(func(g *glyph) bool { return g.italic }); !s.setOff(end, next) {
			return nil, nil
		}
	}
	if end < 4 || end > maxRunIn || next+3 > len(s.glyphs) {
		return nil, nil
	}
	head, rest = s.cut(end, next)
	for _, part := range []*strip{head, rest} {
		part.repair(p.codes)
		unglue(part)
	}
	if letters(head.text) < 4 {
		return nil, nil
	}
	// Keywords and their like end with their line; no section begins there.
	if section, named := sectionOf(head.text); named && section == SectionOther && !s.startsBold() {
		return nil, nil
	}
	return head, rest
}

// faceEnds finds where the words in a face at the start of the strip end, and
// where those in another begin: behind a space, or behind the dash after a stop.
// Both are 0 where the face changes inside a word.
func (s *strip) faceEnds(in func(*glyph) bool) (end, next int) {
	last := 0 // the last letter or digit in the face
	for i := range s.glyphs {
		g := &s.glyphs[i]
		if unicode.IsLetter(g.r) || unicode.IsDigit(g.r) {
			if !in(g) {
				break
			}
			last = i
		}
		switch {
		case g.r == ' ' || i+1 == len(s.glyphs):
		case s.glyphs[i+1].r == ' ':
			end, next = i+1, i+2
		case i > 0 && isDash(g.r) && (s.glyphs[i-1].r == '.' || s.glyphs[i-1].r == ':'):
			end, next = i+1, i+1
		}
	}
	if last >= end {
		return 0, 0
	}
	return end, next
}

func isDash(r rune) bool { return r == '–' || r == '—' }

// startsItalic reports whether the strip's first word is in italics.
func (s *strip) startsItalic() bool {
	return len(s.glyphs) > 2 && s.glyphs[0].italic && s.glyphs[1].italic && s.glyphs[2].italic
}

// setOff reports whether what stands before end is told from the sentence that
// begins at next by more than its face.
func (s *strip) setOff(end, next int) bool {
	if end == 0 || next >= len(s.glyphs) {
		return false
	}
	switch r := firstLetter(runes(s.glyphs[next:])); {
	case !unicode.IsUpper(r) && !unicode.IsDigit(r):
		return false
	case strings.ContainsRune(".:–—?", s.glyphs[end-1].r):
		return true
	}
	return next > end && s.glyphs[end].x1-s.glyphs[end].x0 >= quadGap*s.size
}

// headsBelow reports whether the lines so far are an italic heading of their own
// over the line s.
func (p *sheet) headsBelow(c *chunk, s *strip) bool {
	text := c.text()
	return !p.references && c.italic() && !s.italic && len(c.strips) <= 3 && p.short(c.last()) &&
		letters(text) >= 4 && unicode.IsUpper(firstLetter(text)) && unicode.IsUpper(firstLetter(s.text))
}

// headedBy reports whether s is an italic heading of its own below the end of a
// paragraph.
func (p *sheet) headedBy(prev, s *strip) bool {
	return !p.references && s.italic && s.startsItalic() && !prev.italic && endsSentence(prev.text) && p.short(s) && s.x0 < prev.x0+0.3*s.size &&
		letters(s.text) >= 4 && unicode.IsUpper(firstLetter(s.text))
}

// short reports whether the line ends before the column does, by more than
// justified lines do.
func (p *sheet) short(s *strip) bool { return s.x1 < p.rightEdge(s)-1.5*s.size }

// isItalicHeading reports whether a block in italics says no whole sentence.
func (c *chunk) isItalicHeading(text string) bool {
	words := len(strings.Fields(text))
	return c.italic() && letters(text) >= 4 && words <= 12 && (words <= 6 || !endsSentence(text))
}

func letters(text string) int {
	n := 0
	for _, r := range text {
		if unicode.IsLetter(r) {
			n++
		}
	}
	return n
}
