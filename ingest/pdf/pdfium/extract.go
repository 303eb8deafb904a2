package pdfium

import (
	"fmt"
	"math"
	"slices"
	"unicode/utf16"
	"unicode/utf8"

	"hatchlore/ingest/pdf"
)

// frameOf maps the engine's page space (origin at the lower left, before
// rotation) to the page as shown.
type frameOf struct {
	left, top, right, bottom float64
	turns                    int // quarter turns clockwise
}

func (f frameOf) size() (w, h float64) {
	w, h = f.right-f.left, f.top-f.bottom
	if f.turns%2 == 1 {
		return h, w
	}
	return w, h
}

func (f frameOf) point(x, y float64) (float64, float64) {
	switch f.turns {
	case 1:
		return y - f.bottom, x - f.left
	case 2:
		return f.right - x, y - f.bottom
	case 3:
		return f.top - y, f.right - x
	default:
		return x - f.left, f.top - y
	}
}

// box maps a box and puts its corners in order.
func (f frameOf) box(l, t, r, b float64) (left, top, right, bottom float64) {
	x1, y1 := f.point(l, t)
	x2, y2 := f.point(r, b)
	return min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)
}

// Page reads one page, counted from 1. Its characters are put into the room
// given, as far as that goes: whoever is done with a page lends its memory to
// the next. A page that pdfium refuses comes back with Err; a page on which the
// engine fails leaves [Engine.Err] set.
func (d *Document) Page(number int, room []pdf.Char) pdf.Page {
	out := pdf.Page{Number: number}
	page := d.call("FPDF_LoadPage", d.handle, uint64(number-1))
	if page == 0 {
		out.Err = "the page is damaged"
		return out
	}
	defer d.call("FPDF_ClosePage", page)
	view := d.view(page)
	w, h := view.size()
	out.Width, out.Height = float32(w), float32(h)
	text := d.call("FPDFText_LoadPage", page)
	if text == 0 {
		out.Err = "the text of the page is damaged"
		return out
	}
	defer d.call("FPDFText_ClosePage", text)
	n := int(int32(d.call("FPDFText_CountChars", text)))
	if n > pdf.MaxChars {
		out.Err = fmt.Sprintf("the page has %d characters, more than any printed page", n)
		return out
	}
	if n > 0 {
		var pale []int
		if out.Chars, pale = d.chars(text, n, view, room[:0]); len(pale) > 0 {
			d.hide(page, view, out.Chars, pale)
		}
	}
	out.Pictures = d.pictures(page, view)
	return out
}

// view finds the visible box and the rotation of a page.
func (d *Document) view(page uint64) frameOf {
	f := frameOf{right: 612, top: 792}
	if int32(d.call("FPDF_GetPageBoundingBox", page, d.at(0))) != 0 {
		b := d.scratch(16) // FS_RECTF: left, top, right, bottom
		f.left, f.top, f.right, f.bottom = single(b), single(b[4:]), single(b[8:]), single(b[12:])
	}
	f.turns = int(d.call("FPDFPage_GetRotation", page)) & 3
	return f
}

// style is what all characters of one text object share.
type style struct {
	size   float32
	weight int16
	flags  pdf.Flag
	pale   bool // white, or next to it
}

// chars reads the characters of a text page and puts them behind out. Pale are
// those that are drawn in white. A character beyond U+FFFF, such as the letters of
// mathematics, is two to the engine, one surrogate each.
func (d *Document) chars(text uint64, n int, view frameOf, out []pdf.Char) (_ []pdf.Char, pale []int) {
	list := d.charList(text, n)
	out = slices.Grow(out, n)
	stylist, styles := d.stylist(list, view.turns), map[uint64]style{}
	var last pdf.Char
	var s style
	var current uint64 // the text object of s
	for i := 0; i < n && d.err == nil; i++ {
		r := list.at(i)
		if r.kind == generated {
			c := last
			c.Rune, c.Left = r.unicode, last.Right
			c.Flags = pdf.Generated | last.Flags&(pdf.Sideways|pdf.Hidden|pdf.Italic)
			out = append(out, c)
			continue
		}
		if r.object != current || len(styles) == 0 {
			var known bool
			if s, known = styles[r.object]; !known {
				s = stylist.style(i, r.object)
				styles[r.object] = s
			}
			current = r.object
		}
		l, t, rt, b := view.box(r.left, r.top, r.right, r.bottom)
		_, base := view.point(r.x, r.y)
		c := pdf.Char{
			Rune: r.unicode, Left: float32(l), Top: float32(t), Right: float32(rt), Bottom: float32(b), Origin: float32(base),
			Size: s.size, Weight: s.weight, Flags: s.flags,
		}
		switch r.kind {
		case unmapped:
			c.Flags |= pdf.MapError
		case hyphen:
			c.Flags |= pdf.Hyphen
		}
		if whole := utf16.DecodeRune(last.Rune, c.Rune); whole != utf8.RuneError {
			last.Rune, out[len(out)-1].Rune = whole, whole
			continue
		}
		if s.pale {
			pale = append(pale, len(out))
		}
		out = append(out, c)
		last = c
	}
	return out, pale
}

// stylist finds the style of text objects. A page has thousands of them, so that
// the functions that it asks are looked up once.
type stylist struct {
	list             charList
	turns            int
	size, font, mode *function
}

func (d *Document) stylist(list charList, turns int) stylist {
	return stylist{list, turns, d.function("FPDFText_GetFontSize"), d.function("FPDFTextObj_GetFont"), d.function("FPDFTextObj_GetTextRenderMode")}
}

// style reads what the characters of a text object share, of which the i-th is
// one.
func (y stylist) style(i int, object uint64) style {
	d := y.list.d
	s := style{size: float32(math.Float64frombits(d.invoke(y.size, y.list.text, uint64(i))))}
	if m, known := y.list.matrix(i); known {
		a, b := m[0], m[1]
		s.size *= float32(math.Hypot(m[2], m[3]))
		if y.turns%2 == 1 {
			a, b = b, a
		}
		if math.Abs(b) > 0.2*math.Abs(a) {
			s.flags |= pdf.Sideways
		}
	}
	if object == 0 {
		return s
	}
	font := d.face(d.invoke(y.font, object))
	if s.weight = font.weight; font.italic {
		s.flags |= pdf.Italic
	}
	if font.signs {
		s.flags |= pdf.Signs
	}
	s.pale = d.isPale(object)
	if d.invoke(y.mode, object) == 3 {
		s.flags |= pdf.Hidden
	}
	return s
}
