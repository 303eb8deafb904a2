package block

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/ingest"
	"hatchlore/ingest/heading"
	"hatchlore/ingest/line"
	"hatchlore/ingest/prose"
	"hatchlore/ingest/reference"
	"hatchlore/ingest/sheet"
)

// paper is what tells the blocks of a whole paper apart.
type paper struct {
	sheets []*sheet.Sheet
	chunks [][]*Chunk  // by sheet
	body   float64     // usual type size of the whole paper
	sizes  map[int]int // characters by size in quarter points
}

// Find finds the blocks of each sheet and what they are.
func Find(sheets []*sheet.Sheet) [][]*Chunk {
	p := &paper{sheets: sheets, sizes: map[int]int{}}
	references := false
	for _, sh := range sheets {
		for _, s := range sh.Strips {
			p.sizes[int(s.Size*4+.5)] += len(s.Glyphs)
		}
		b := newBody(sh, references)
		p.chunks = append(p.chunks, b.chunks())
		references = b.references
	}
	p.body = float64(line.Commonest(p.sizes)) / 4
	p.classify()
	return p.chunks
}

// classify gives every chunk its kind and section, in reading order.
func (p *paper) classify() {
	p.findTitle()
	section := ingest.SectionUnknown
	for i, page := range p.chunks {
		for k, c := range page {
			section = p.classifyOne(p.sheets[i], c, section)
			c.Section = section
			if k > 0 && c.Kind == ingest.Paragraph && page[k-1].isLabel() {
				c.Kind = ingest.Caption
			}
		}
		findLettering(page)
		p.chunks[i] = mend(p.sheets[i], page)
	}
	p.splitReferences()
}

// classifyOne sets the kind of a chunk and returns the section in force after
// it.
func (p *paper) classifyOne(sh *sheet.Sheet, c *Chunk, section ingest.Section) ingest.Section {
	text := c.text()
	parted := c.Kind == ingest.Heading // from its text, by its name or face
	if c.Kind == ingest.Paragraph {
		c.Kind = p.kindOf(sh, c, text, section == ingest.SectionReferences)
	}
	switch c.Kind {
	case ingest.Heading:
		if s, ok := heading.Of(text); ok {
			return s
		}
		if section == ingest.SectionAbstract && !parted && !c.italic() {
			return ingest.SectionUnknown // an abstract has no other headings than named ones
		}
	case ingest.Paragraph:
		if s, _, ok := heading.RunIn(text); ok {
			return s
		}
	}
	return section
}

// kindOf says what a paragraph is by its type, place and words.
func (p *paper) kindOf(sh *sheet.Sheet, c *Chunk, text string, inReferences bool) ingest.BlockKind {
	_, _, runIn := heading.RunIn(text)
	switch {
	case heading.IsCaption(text, c.bold() || c.first().StartsBold() || !line.Near(c.size(), p.body, 0.05)):
		return ingest.Caption
	case runIn:
		return ingest.Paragraph
	case p.isFootnote(sh, c, text):
		return ingest.Footnote
	case p.isHeading(c, text) && !(inReferences && (c.italic() || reference.OpensWithNames(text))):
		return ingest.Heading
	case inReferences && prose.HasLetters(text):
		return ingest.Reference
	case isListItem(text):
		return ingest.ListItem
	}
	return ingest.Paragraph
}

// isHeading reports whether a short block stands over others by its type or
// number.
func (p *paper) isHeading(c *Chunk, text string) bool {
	words := strings.Fields(text)
	if len(c.Strips) > 3 || len(words) > 16 || len(text) > 140 || !prose.HasLetters(text) || c.first().Sideways {
		return false
	}
	if r := prose.FirstLetter(text); !unicode.IsUpper(r) && !unicode.IsDigit(r) {
		return false
	}
	if last := prose.Last(text); last == ',' || last == ';' || last == '-' {
		return false
	}
	letters := prose.Letters(text)
	if 2*letters < utf8.RuneCountInString(text) {
		return false
	}
	larger := c.size() > 1.08*p.body && p.share(c.size()) < headingShare
	capitals := text == strings.ToUpper(text) && letters > 4 && len(words) > 1
	numbered := heading.IsNumbered(text) && !prose.EndsSentence(text) && len(words) <= 10
	return larger || c.bold() && letters > 3 || c.isItalicHeading(text) || (capitals || numbered && !isCommand(text)) && c.size() > 0.95*p.body
}

// headingShare is the share of a paper's text that a heading's type holds at
// most; what holds more is text.
const headingShare = 0.12

// share returns the share of the paper's characters that are set in a size.
func (p *paper) share(size float64) float64 {
	n, all := 0, 0
	for k, c := range p.sizes {
		all += c
		if line.Near(float64(k)/4, size, 0.02) {
			n += c
		}
	}
	return float64(n) / float64(max(all, 1))
}

// isCommand reports whether a numbered line is an instruction rather than a
// heading: it ends as a sentence does.
func isCommand(text string) bool { return strings.HasSuffix(text, ".") || strings.HasSuffix(text, ":") }

var noteMark = regexp.MustCompile(`^(?:[*†‡§¶]|[⁰¹²³⁴⁵⁶⁷⁸⁹]+)\s*\pL`)

// isFootnote reports whether a block is smaller type low on the page that opens
// with a mark.
func (p *paper) isFootnote(sh *sheet.Sheet, c *Chunk, text string) bool {
	return c.size() < 0.95*p.body && c.first().Base > 0.55*sh.Height && noteMark.MatchString(text)
}

var bullet = regexp.MustCompile(`^(?:[•●▪■◦‣–—]\s|\(?(?:[0-9]{1,2}|[a-h]|[ivx]{1,4})\)\s)`)

func isListItem(text string) bool { return bullet.MatchString(text) }
