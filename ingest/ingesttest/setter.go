// Package ingesttest sets pages for tests and checks what must hold for every
// document. Nothing but tests imports it.
package ingesttest

import (
	"hatchlore/ingest/pdf"
)

// Setter sets characters on a page as a typesetter would: every one half its
// size wide, spaces put in by the engine.
type Setter struct {
	Page pdf.Page
	Flag pdf.Flag
	Bold bool
}

func NewSetter() *Setter {
	return &Setter{Page: pdf.Page{Number: 1, Width: 600, Height: 800}}
}

// At sets text with its baseline at y and returns where it ends. \x01 to \x1f
// stand for characters that the font does not map.
func (s *Setter) At(x, y, size float32, text string) float32 {
	for _, r := range text {
		c := pdf.Char{Rune: r, Left: x, Right: x + size/2, Top: y - 0.7*size, Bottom: y, Origin: y, Size: size, Weight: 400, Flags: s.Flag}
		if s.Bold {
			c.Weight = 700
		}
		switch {
		case r == ' ':
			c.Flags |= pdf.Generated
			c.Left = c.Right
		case r < 0x20:
			c.Flags |= pdf.MapError
		}
		s.Page.Chars = append(s.Page.Chars, c)
		x += size / 2
	}
	return x
}

// Lines sets lines of text down a column and returns the baseline after them.
func (s *Setter) Lines(x, y, size float32, lines ...string) float32 {
	for _, l := range lines {
		s.At(x, y, size, l)
		y += 1.2 * size
	}
	return y
}
