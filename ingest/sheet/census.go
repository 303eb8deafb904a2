package sheet

import (
	"strings"

	"hatchlore/ingest"
)

// CodedShare is the share of characters without a map from which on a page is
// taken to have none.
const CodedShare = 0.30

// Census counts the page's characters: all, those the font does not map, those
// that are lost for reading, and those drawn invisibly.
func (p *Sheet) Census() (inked, coded, lostOnes, hidden int) {
	for _, s := range p.Strips {
		for i := range s.Glyphs {
			g := &s.Glyphs[i]
			if g.Rune == ' ' || g.Rune == '\t' {
				continue
			}
			inked++
			if g.Hidden {
				hidden++
			}
			if g.Coded {
				coded++
			}
		}
		lostOnes += strings.Count(s.Text, string(ingest.Lost))
	}
	return inked, coded, lostOnes, hidden
}
