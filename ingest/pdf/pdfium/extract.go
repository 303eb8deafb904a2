package pdfium

import (
	"fmt"
	"math"

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

// Page reads one page, counted from 1. A page that pdfium refuses comes back
// with Err; a page on which the engine fails leaves [Engine.Err] set.
func (d *Document) Page(number int) pdf.Page {
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
		var pale map[int]bool
		if out.Chars, pale = d.chars(text, n, view); len(pale) > 0 {
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
	base   baseline
}

// baseline is where the characters of a text object stand. Each call into the
// engine costs as much as the rest of a character: once two of them stand on
// the same height, all others do, unless the text runs downwards or askew.
type baseline struct {
	at    float32
	known bool // all characters stand there
	seen  bool // the first one did
}

func (b *baseline) learn(at float32) {
	b.known = b.seen && b.at == at
	b.at, b.seen = at, true
}

// chars reads the characters of a text page, and says which are drawn in white.
func (d *Document) chars(text uint64, n int, view frameOf) (out []pdf.Char, pale map[int]bool) {
	unicode, box, origin := d.function("FPDFText_GetUnicode"), d.function("FPDFText_GetCharBox"), d.function("FPDFText_GetCharOrigin")
	object, generated := d.function("FPDFText_GetTextObject"), d.function("FPDFText_IsGenerated")
	mapError, hyphen := d.function("FPDFText_HasUnicodeMapError"), d.function("FPDFText_IsHyphen")
	out, pale = make([]pdf.Char, 0, n), map[int]bool{}
	styles := map[uint64]*style{}
	var last pdf.Char
	var s *style
	var current uint64 // the text object of s
	for i := uint64(0); i < uint64(n) && d.err == nil; i++ {
		c := pdf.Char{Rune: rune(d.invoke(unicode, text, i))}
		// The engine makes up nothing but blanks and line ends, and its hyphens
		// are neither letters nor digits; most characters need not be asked.
		alnum := c.Rune >= '0' && c.Rune <= '9' || c.Rune >= 'A' && c.Rune <= 'Z' || c.Rune >= 'a' && c.Rune <= 'z'
		if !alnum && int32(d.invoke(generated, text, i)) == 1 {
			c.Flags |= pdf.Generated
			c.Left, c.Right, c.Top, c.Bottom = last.Right, last.Right, last.Top, last.Bottom
			c.Origin, c.Size, c.Weight = last.Origin, last.Size, last.Weight
			c.Flags |= last.Flags & (pdf.Sideways | pdf.Hidden | pdf.Italic)
			out = append(out, c)
			continue
		}
		if int32(d.invoke(mapError, text, i)) == 1 {
			c.Flags |= pdf.MapError
		}
		if !alnum && int32(d.invoke(hyphen, text, i)) == 1 {
			c.Flags |= pdf.Hyphen
		}
		if obj := d.invoke(object, text, i); s == nil || obj != current {
			current = obj
			if s = styles[obj]; s == nil {
				s = d.style(text, i, obj, view.turns)
				styles[obj] = s
			}
		}
		d.invoke(box, text, i, d.at(0), d.at(1), d.at(2), d.at(3))
		b := d.scratch(48) // left, right, bottom, top, x, y
		l, t, r, bt := view.box(double(b), double(b[24:]), double(b[8:]), double(b[16:]))
		if !s.base.known {
			d.invoke(origin, text, i, d.at(4), d.at(5))
			_, base := view.point(double(b[32:]), double(b[40:]))
			s.base.learn(float32(base))
		}
		c.Left, c.Top, c.Right, c.Bottom, c.Origin = float32(l), float32(t), float32(r), float32(bt), s.base.at
		c.Size, c.Weight = s.size, s.weight
		c.Flags |= s.flags
		if s.pale {
			pale[len(out)] = true
		}
		out = append(out, c)
		last = c
	}
	return out, pale
}

// style reads what the characters of a text object share.
func (d *Document) style(text, i, obj uint64, turns int) *style {
	s := &style{size: float32(math.Float64frombits(d.call("FPDFText_GetFontSize", text, i)))}
	if int32(d.call("FPDFText_GetMatrix", text, i, d.at(0))) != 0 {
		m := d.scratch(24) // FS_MATRIX: a b c d e f
		a, b, c, e := single(m), single(m[4:]), single(m[8:]), single(m[12:])
		s.size *= float32(math.Hypot(c, e))
		if turns%2 == 1 {
			a, b = b, a
		}
		if math.Abs(b) > 0.2*math.Abs(a) {
			s.flags |= pdf.Sideways
		}
	}
	if obj == 0 {
		return s
	}
	font := d.face(d.call("FPDFTextObj_GetFont", obj))
	if s.weight = font.weight; font.italic {
		s.flags |= pdf.Italic
	}
	if font.signs {
		s.flags |= pdf.Signs
	}
	s.pale = d.isPale(obj)
	if d.call("FPDFTextObj_GetTextRenderMode", obj) == 3 {
		s.flags |= pdf.Hidden
	}
	return s
}
