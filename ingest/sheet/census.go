package sheet

import (
	"strings"

	"hatchlore/ingest"
)

// codedShare is the share of characters without a map from which on a page is
// taken to have none.
const codedShare = 0.30

// Census counts the characters of a page.
type Census struct {
	Inked  int // all but spaces
	Coded  int // those that the font does not map
	Lost   int // those of which the repaired text has nothing
	Hidden int // those drawn invisibly
}

// share returns n as a share of the page's characters.
func (c Census) share(n int) float64 { return float64(n) / float64(max(c.Inked, 1)) }

// IsCoded reports whether the page is taken to have no character map.
func (c Census) IsCoded() bool { return c.share(c.Coded) > codedShare }

// LostShare and HiddenShare are shares of all characters.
func (c Census) LostShare() float64   { return c.share(c.Lost) }
func (c Census) HiddenShare() float64 { return c.share(c.Hidden) }

// Census counts the page's characters.
func (p *Sheet) Census() (c Census) {
	for _, s := range p.Strips {
		for i := range s.Glyphs {
			g := &s.Glyphs[i]
			if g.Rune == ' ' || g.Rune == '\t' {
				continue
			}
			c.Inked++
			if g.Hidden {
				c.Hidden++
			}
			if g.Coded {
				c.Coded++
			}
		}
		c.Lost += strings.Count(s.Text, string(ingest.Lost))
	}
	return c
}
