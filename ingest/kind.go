package ingest

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// paper is a whole document on its way into the text.
type paper struct {
	sheets []*sheet
	chunks [][]*chunk  // by sheet
	body   float64     // usual type size of the whole paper
	sizes  map[int]int // characters by size in quarter points
	vocab  vocabulary
}

// classify gives every chunk its kind and section, in reading order.
func (p *paper) classify() {
	p.findTitle()
	section := SectionUnknown
	for i, page := range p.chunks {
		for k, c := range page {
			section = p.classifyOne(p.sheets[i], c, section)
			c.section = section
			if k > 0 && c.kind == Paragraph && page[k-1].isLabel() {
				c.kind = Caption
			}
		}
		p.findLettering(page)
		page = p.sheets[i].mend(page)
		p.chunks[i] = splitReferences(page)
	}
}

// classifyOne sets the kind of a chunk and returns the section in force after
// it.
func (p *paper) classifyOne(sh *sheet, c *chunk, section Section) Section {
	text := c.text()
	if c.kind == Heading {
		if s, ok := sectionOf(text); ok {
			return s
		}
		if s, ok := sectionHint(text); ok {
			return s
		}
		return section
	}
	if c.kind != Paragraph {
		return section
	}
	if isCaption(text, c.bold() || c.first().startsBold() || !near(c.size(), p.body, 0.05)) {
		c.kind = Caption
		return section
	}
	if s, _, ok := runIn(text); ok {
		return s
	}
	switch {
	case p.isFootnote(sh, c, text):
		c.kind = Footnote
	case p.isHeading(c, text) && !(section == SectionReferences && (c.italic() || authorEntry.MatchString(text))):
		c.kind = Heading
		if s, ok := sectionHint(text); ok {
			return s
		}
		if section == SectionAbstract && !c.italic() {
			return SectionUnknown // an abstract has no other headings than named ones
		}
	case isListItem(text):
		c.kind = ListItem
	case section == SectionReferences && hasLetters(text):
		c.kind = Reference
	}
	return section
}

// isLabel reports whether the chunk is a caption's label alone on its line.
func (c *chunk) isLabel() bool { return c.kind == Caption && len(c.strips) == 1 && len(c.text()) < 14 }

// findLettering takes the kind from scraps that are no sentences: numbers alone,
// and the short lines inside a figure, which come in swarms. They stay in the
// text, in no block.
func (p *paper) findLettering(page []*chunk) {
	scrap := make([]bool, len(page))
	for i, c := range page {
		text := c.text()
		scrap[i] = (c.kind == Paragraph || c.kind == Heading && !c.named(text)) && len(c.strips) == 1 && len(strings.Fields(text)) <= 4 &&
			!endsSentence(text)
	}
	for i, c := range page {
		swarm := 0
		for j := max(0, i-2); j <= min(len(page)-1, i+2); j++ {
			if scrap[j] {
				swarm++
			}
		}
		if scrap[i] && (!hasLetters(c.text()) || swarm >= 4) {
			c.kind = ""
		}
	}
}

// named reports whether a heading's text opens a section.
func (c *chunk) named(text string) bool {
	_, ok := sectionOf(text)
	return ok
}

func hasLetters(text string) bool { return strings.IndexFunc(text, unicode.IsLetter) >= 0 }

// startsBold reports whether the strip's first word is bold.
func (s *strip) startsBold() bool { return len(s.glyphs) > 2 && s.glyphs[0].bold && s.glyphs[2].bold }

// findTitle marks the largest type on the first page, if it says something and
// is larger than the text.
func (p *paper) findTitle() {
	if len(p.chunks) == 0 {
		return
	}
	var best *chunk
	for _, c := range p.chunks[0] {
		text := c.text()
		if c.kind != Paragraph || c.first().sideways || len(strings.Fields(text)) < 3 || utf8.RuneCountInString(text) < 12 ||
			len(text) > 400 || c.first().top > 0.65*p.sheets[0].height {
			continue
		}
		if _, ok := sectionOf(text); ok {
			continue
		}
		if best == nil || c.size() > 1.05*best.size() || near(c.size(), best.size(), 0.05) && c.bold() && !best.bold() {
			best = c
		}
	}
	if best != nil && (best.size() > 1.12*p.body || best.bold()) {
		best.kind = Title
	}
}

// isHeading reports whether a short block stands over others by its type or
// number.
func (p *paper) isHeading(c *chunk, text string) bool {
	words := strings.Fields(text)
	if len(c.strips) > 3 || len(words) > 16 || len(text) > 140 || !hasLetters(text) || c.first().sideways {
		return false
	}
	if r := firstLetter(text); !unicode.IsUpper(r) && !unicode.IsDigit(r) {
		return false
	}
	if last := lastRune(text); last == ',' || last == ';' || last == '-' {
		return false
	}
	letters := letters(text)
	if 2*letters < utf8.RuneCountInString(text) {
		return false
	}
	larger := c.size() > 1.08*p.body && p.share(c.size()) < headingShare
	capitals := text == strings.ToUpper(text) && letters > 4 && len(words) > 1
	numbered := numbering.MatchString(text) && !endsSentence(text) && len(words) <= 10
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
		if near(float64(k)/4, size, 0.02) {
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
func (p *paper) isFootnote(sh *sheet, c *chunk, text string) bool {
	return c.size() < 0.95*p.body && c.first().base > 0.55*sh.height && noteMark.MatchString(text)
}

var bullet = regexp.MustCompile(`^(?:[•●▪■◦‣–—]\s|\(?(?:[0-9]{1,2}|[a-h]|[ivx]{1,4})\)\s)`)

func isListItem(text string) bool { return bullet.MatchString(text) }

var (
	numberedEntry = regexp.MustCompile(`^(?:\[[0-9]{1,3}\]|[0-9]{1,3}\.)\s*\pL`)
	authorEntry   = regexp.MustCompile(`^\p{Lu}[\pL'’\-]+(?: \p{Lu}[\pL'’\-]+)?,? (?:\p{Lu}\.|\p{Lu}{1,3}[,. ]|\p{Lu}{1,3}$)`)
)

// splitReferences parts blocks of the reference list that run several entries
// together.
func splitReferences(page []*chunk) []*chunk {
	var out []*chunk
	for _, c := range page {
		if c.kind != Reference {
			out = append(out, c)
			continue
		}
		numbered := numberedEntry.MatchString(c.first().text)
		from := 0
		for i := 1; i <= len(c.strips); i++ {
			if i < len(c.strips) && !opensEntry(c.strips[i-1].text, c.strips[i].text, numbered) {
				continue
			}
			out = append(out, &chunk{kind: Reference, section: c.section, strips: c.strips[from:i]})
			from = i
		}
	}
	return out
}

func opensEntry(prev, line string, numbered bool) bool {
	if numbered {
		return numberedEntry.MatchString(line)
	}
	last := lastRune(strings.TrimRight(prev, " "))
	return (last == '.' || unicode.IsDigit(last) || last == ')') && authorEntry.MatchString(line)
}
