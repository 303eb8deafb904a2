package layout

import (
	"slices"
	"unicode"

	"hatchlore/ingest"
	"hatchlore/ingest/language"
	"hatchlore/ingest/sheet"
)

// Measures by which a page's text is found wanting. Common practice, tuned on
// typeset articles and scans.
const (
	fewWords    = 60
	largeImage  = 0.35
	lostShare   = 0.01
	layerHidden = 0.5
)

// judge says of every page how it was read.
func judge(d *ingest.Document, sheets []*sheet.Sheet) {
	for i := range d.Pages {
		page, sh := &d.Pages[i], sheets[i]
		words := countWords(page.Text)
		census := sh.Census()
		switch {
		case sh.Page.Err != "":
			page.How, page.Why = ingest.Unread, sh.Page.Err
		case sh.Page.Scanned && census.Inked == 0:
			page.How, page.Why = ingest.ByOCR, ingest.WhyNoText
		case sh.Page.Scanned:
			page.How = ingest.ByOCR
		case words < fewWords && sh.Page.Pictures > largeImage && !hasCaption(page):
			page.How, page.Why = ingest.Unread, ingest.WhyPicture
		case census.Inked == 0:
			page.Why = ingest.WhyBlank
		case census.IsCoded() && !sh.Unshifted && language.Share(page.Text, d.Lang) < language.MinShare:
			page.How, page.Why = ingest.Unread, ingest.WhyCoded
		case census.LostShare() > lostShare && census.Inked > 200:
			page.Why = "many of its characters do not map to text"
		case census.HiddenShare() > layerHidden && sh.Page.Pictures > largeImage:
			page.How, page.Why = ingest.ByOCR, ingest.WhyScan
		}
		if page.NeedsOCR() && sh.Page.Unpictured != "" {
			page.Why = sh.Page.Unpictured
		}
	}
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
func hasCaption(page *ingest.Page) bool {
	return slices.ContainsFunc(page.Blocks, func(b ingest.Block) bool { return b.Kind == ingest.Caption })
}
