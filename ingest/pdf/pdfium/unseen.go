package pdfium

import (
	"slices"

	"hatchlore/ingest/pdf"
)

// White text is plain to see on a dark ground, as in the heads of many tables, and
// not at all on white paper. Only the page's picture tells the two apart.

// paleFrom is the least value of red, green and blue in which text is white.
const paleFrom = 245

// isPale reports whether a text object is filled with white or with nothing.
func (d *Document) isPale(obj uint64) bool {
	if int32(d.call("FPDFPageObj_GetFillColor", obj, d.at(0), d.at(1), d.at(2), d.at(3))) == 0 {
		return false
	}
	b := d.scratch(32)
	red, green, blue, alpha := b[0], b[8], b[16], b[24]
	return min(red, green, blue) >= paleFrom || alpha == 0
}

// contrast is the least difference of grey that ink makes to be seen.
const contrast = 40

// hide marks the pale characters that cannot be seen on the page's picture. Drawing
// that takes as long as reading ten pages, and is worth it only where numbers are pale.
func (d *Document) hide(page uint64, view frameOf, chars []pdf.Char, pale []int) {
	if !slices.ContainsFunc(pale, func(i int) bool { return chars[i].Rune >= '0' && chars[i].Rune <= '9' }) {
		return
	}
	wide, high := view.size()
	const scale = 1.5 // pixels a point
	w, h := int(wide*scale), int(high*scale)
	if w < 1 || h < 1 || w*h > maxPixels {
		return
	}
	raw, stride, free := d.draw(page, w, h)
	if raw == nil {
		return
	}
	defer free()
	for _, i := range pale {
		c := &chars[i]
		x0, x1 := max(int(c.Left*scale)-1, 0), min(int(c.Right*scale)+2, w)
		y0, y1 := max(int(c.Top*scale)-1, 0), min(int(c.Bottom*scale)+2, h)
		least, most := 255, 0
		for y := y0; y < y1; y++ {
			for x := x0; x < x1; x++ {
				grey := int(raw[y*stride+4*x+1])
				least, most = min(least, grey), max(most, grey)
			}
		}
		if most-least < contrast {
			c.Flags |= pdf.Hidden
		}
	}
}
