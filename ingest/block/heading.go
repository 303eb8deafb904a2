package block

import (
	"regexp"
	"strings"
	"unicode"

	"hatchlore/ingest"
	"hatchlore/ingest/heading"
	"hatchlore/ingest/line"
	"hatchlore/ingest/prose"
)

// Headings in the size of the text are known by their face alone. Bold type is
// rare in running text. Italics are not: names of species open sentences. So an
// italic heading must also stand off, by a stop, a wide gap or a line of its own;
// and a list of references, with its titles in italics, has none.

// maxRunIn bounds a run-in heading, in characters.
const maxRunIn = 80

// runInHeading parts a heading from the text that goes on behind it on the same
// line. It returns nil when there is none.
func (p *body) runInHeading(s *line.Strip) (head, rest *line.Strip) {
	if s.Sideways || len(s.Cells) > 1 || !unicode.IsUpper(prose.FirstLetter(s.Text)) || heading.IsLabelled(s.Text) {
		return nil, nil
	}
	var end, next int
	switch {
	case !s.Bold && s.StartsBold():
		end, next = s.FaceEnds(func(g *line.Glyph) bool { return g.Bold })
	case !s.Italic && s.StartsItalic() && !p.references:
		if end, next = s.FaceEnds(func(g *line.Glyph) bool { return g.Italic }); !s.SetOff(end, next) {
			return nil, nil
		}
	}
	if end < 4 || end > maxRunIn || next+3 > len(s.Glyphs) {
		return nil, nil
	}
	head, rest = s.Cut(end, next)
	for _, part := range []*line.Strip{head, rest} {
		part.Repair(p.Codes)
	}
	if prose.Letters(head.Text) < 4 {
		return nil, nil
	}
	// Keywords and their like end with their line; no section begins there. In a list
	// of references, authors are set in bold type.
	section, named := heading.Section(head.Text)
	if named && section == ingest.SectionOther && !s.StartsBold() || !named && p.references {
		return nil, nil
	}
	return head, rest
}

// headsBelow reports whether the lines so far are an italic heading of their own
// over the line s.
func (p *body) headsBelow(c *Chunk, s *line.Strip) bool {
	if p.references || len(c.Strips) > 3 || s.Italic || !c.italic() || !p.Short(c.last()) || !unicode.IsUpper(prose.FirstLetter(s.Text)) {
		return false
	}
	text := c.text()
	return prose.Letters(text) >= 4 && unicode.IsUpper(prose.FirstLetter(text))
}

// headedBy reports whether s is an italic heading of its own below the end of a
// paragraph.
func (p *body) headedBy(prev, s *line.Strip) bool {
	return !p.references && s.Italic && s.StartsItalic() && !prev.Italic && prose.EndsSentence(prev.Text) && p.Short(s) && s.X0 < prev.X0+0.3*s.Size &&
		prose.Letters(s.Text) >= 4 && unicode.IsUpper(prose.FirstLetter(s.Text))
}

// partNumber matches the number of a section within another and the capital
// behind it: "3.3.2 Speed".
var partNumber = regexp.MustCompile(`^[0-9]{1,2}(?:\.[0-9]{1,2}){1,3}\.? +\p{Lu}`)

// isNumbered reports whether the line is a heading by its number alone, in the
// type of the text: few words that end before the column does and say no whole
// sentence.
func (p *body) isNumbered(s *line.Strip) bool {
	return len(s.Cells) <= 1 && partNumber.MatchString(s.Text) && p.Short(s) && !prose.EndsSentence(s.Text) && len(strings.Fields(s.Text)) <= 12
}

// isItalicHeading reports whether a block in italics says no whole sentence.
func (c *Chunk) isItalicHeading(text string) bool {
	words := len(strings.Fields(text))
	return c.italic() && prose.Letters(text) >= 4 && words <= 12 && (words <= 6 || !prose.EndsSentence(text))
}
