package pdfium

import "hatchlore/ingest/pdf"

// Page object types of pdfium's fpdf_edit.h.
const (
	objectImage = 3
	objectForm  = 5
)

// coverGrid is the fineness with which picture cover is measured; overlapping
// images (a scan in strips, with a mask) then count once.
const coverGrid = 32

// maxObjects bounds the objects looked at for pictures, and formDepth how deep
// forms inside forms are followed.
const (
	maxObjects = 20_000
	formDepth  = 4
)

// cover is a grid over the page.
type cover [coverGrid][coverGrid]bool

func (c *cover) add(left, top, right, bottom, w, h float64) {
	if w <= 0 || h <= 0 {
		return
	}
	for y := range c {
		cy := (float64(y) + .5) / coverGrid * h
		if cy < top || cy > bottom {
			continue
		}
		for x := range c[y] {
			if cx := (float64(x) + .5) / coverGrid * w; cx >= left && cx <= right {
				c[y][x] = true
			}
		}
	}
}

func (c *cover) share() float32 {
	n := 0
	for y := range c {
		for x := range c[y] {
			if c[y][x] {
				n++
			}
		}
	}
	return float32(n) / (coverGrid * coverGrid)
}

// pictures returns the share of the page that images cover.
func (d *Document) pictures(page uint64, view frameOf) float32 {
	var c cover
	budget := maxObjects
	n := int(int32(d.call("FPDFPage_CountObjects", page)))
	for i := 0; i < n && budget > 0; i++ {
		d.coverBy(&c, d.call("FPDFPage_GetObject", page, uint64(i)), view, pdf.Identity, formDepth, &budget)
	}
	return c.share()
}

// coverBy marks what an object covers, if it is an image or a form with images.
func (d *Document) coverBy(c *cover, obj uint64, view frameOf, m pdf.Matrix, depth int, budget *int) {
	*budget--
	if obj == 0 || *budget < 0 || d.err != nil {
		return
	}
	switch d.call("FPDFPageObj_GetType", obj) {
	case objectImage:
		if int32(d.call("FPDFPageObj_GetBounds", obj, d.at(0), d.at(0)+4, d.at(1), d.at(1)+4)) == 0 {
			return
		}
		b := d.scratch(16) // left, bottom, right, top
		x1, y1 := m.Point(single(b), single(b[4:]))
		x2, y2 := m.Point(single(b[8:]), single(b[12:]))
		l, t, r, bt := view.box(x1, y2, x2, y1)
		w, h := view.size()
		c.add(l, t, r, bt, w, h)
	case objectForm:
		if depth == 0 {
			return
		}
		if int32(d.call("FPDFPageObj_GetMatrix", obj, d.at(0))) != 0 {
			b := d.scratch(24)
			m = pdf.Matrix{single(b), single(b[4:]), single(b[8:]), single(b[12:]), single(b[16:]), single(b[20:])}.Then(m)
		}
		n := int(int32(d.call("FPDFFormObj_CountObjects", obj)))
		for i := 0; i < n && *budget > 0; i++ {
			d.coverBy(c, d.call("FPDFFormObj_GetObject", obj, uint64(i)), view, m, depth-1, budget)
		}
	}
}
