package ingest

import (
	"slices"
	"strings"
	"unicode"
)

// Why a page is unread or doubtful.
const (
	WhyPicture = "a picture without text; needs OCR"
	WhyCoded   = "its letters do not map to text; needs OCR"
	WhyBlank   = "an empty page"
	WhyScan    = "the text layer of a scan; its numbers were read by a machine"
	WhyNoText  = "a picture in which no text was found"
	WhyUndrawn = "without text of its own, and its picture cannot be drawn"
	WhySlow    = "without text of its own, and its picture takes too long to read"
)

// Measures by which a page's text is found wanting; see the package's design.
const (
	fewWords    = 60
	largeImage  = 0.35
	codedShare  = 0.30
	lostShare   = 0.01
	layerHidden = 0.5
)

// judge says of every page how it was read.
func judge(d *Document, p *paper) {
	for i := range d.Pages {
		page, sh := &d.Pages[i], p.sheets[i]
		words := countWords(page.Text)
		inked, coded, lostOnes, hidden := sh.census()
		switch {
		case sh.err != "":
			page.How, page.Why = Unread, sh.err
		case sh.scanned && inked == 0:
			page.How, page.Why = ByOCR, WhyNoText
		case sh.scanned:
			page.How = ByOCR
		case words < fewWords && sh.pictures > largeImage && !hasCaption(page):
			page.How, page.Why = Unread, WhyPicture
		case inked == 0:
			page.Why = WhyBlank
		case float64(coded) > codedShare*float64(inked) && !sh.unshifted && stopShare(page.Text, d.Lang) < minStopShare:
			page.How, page.Why = Unread, WhyCoded
		case float64(lostOnes) > lostShare*float64(inked) && inked > 200:
			page.Why = "many of its characters do not map to text"
		case float64(hidden) > layerHidden*float64(inked) && sh.pictures > largeImage:
			page.How, page.Why = ByOCR, WhyScan
		}
		if page.NeedsOCR() && sh.unpictured != "" {
			page.Why = sh.unpictured
		}
	}
}

// NeedsOCR reports whether the page is unread and reading its picture, which
// nobody has tried, may help.
func (p Page) NeedsOCR() bool {
	return p.How == Unread && (p.Why == WhyPicture || p.Why == WhyCoded)
}

// countWords counts the runs of letters in a text.
func countWords(text string) int {
	n, inside := 0, false
	for _, r := range text {
		letter := unicode.IsLetter(r)
		if letter && !inside {
			n++
		}
		inside = letter
	}
	return n
}

// hasCaption reports whether a page names its picture: a figure that fills a
// page is no scan.
func hasCaption(page *Page) bool {
	return slices.ContainsFunc(page.Blocks, func(b Block) bool { return b.Kind == Caption })
}

// census counts the page's characters: all, those the font does not map, those
// that are lost for reading, and those drawn invisibly.
func (p *sheet) census() (inked, coded, lostOnes, hidden int) {
	for _, s := range p.strips {
		for i := range s.glyphs {
			g := &s.glyphs[i]
			if g.r == ' ' || g.r == '\t' {
				continue
			}
			inked++
			if g.hid {
				hidden++
			}
			if g.coded {
				coded++
			}
		}
		lostOnes += strings.Count(s.text, string(lost))
	}
	return inked, coded, lostOnes, hidden
}
