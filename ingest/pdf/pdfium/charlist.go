package pdfium

import (
	"encoding/binary"

	"hatchlore/ingest/pdf"
)

// A text page keeps what it knows of its characters in one row of records
// (CPDF_TextPage::CharInfo). Each question about one of them costs a call into
// the machine, and there are seven questions; so the records are read where
// they lie. That is no promised interface: the page's own functions are asked
// about some of the characters, and where any answer differs, about all.
const (
	listAt     = 16 // in a text page: where the first record lies, then where the last ends
	recordSize = 80

	kindAt    = 0  // byte
	unicodeAt = 4  // 32 bits, as all that follow
	originAt  = 12 // x, y
	boxAt     = 20 // left, bottom, right, top
	matrixAt  = 52 // a b c d e f
	objectAt  = 76
)

// kind says where a character comes from.
type kind byte

const (
	ordinary  kind = iota
	generated      // by the engine
	unmapped       // the font has no character for the glyph
	hyphen         // at the end of a line
)

// record is what a text page knows of one character. Places are in the page's
// own space.
type record struct {
	kind                     kind
	unicode                  rune
	object                   uint64 // the text object that it is part of
	x, y                     float64
	left, bottom, right, top float64
}

// charList gives the records of a text page.
type charList struct {
	d    *Document
	text uint64
	raw  []byte // the records as they lie; nil: ask for each
}

// samples is how many characters of a page are asked about.
const samples = 8

func (d *Document) charList(text uint64, n int) charList {
	list := charList{d: d, text: text}
	memory := d.mod.Memory()
	head, ok := memory.Read(uint32(text)+listAt, 8)
	if !ok {
		return list
	}
	first, end := binary.LittleEndian.Uint32(head), binary.LittleEndian.Uint32(head[4:])
	if n < 1 || uint64(end)-uint64(first) != uint64(n)*recordSize {
		return list
	}
	raw, ok := memory.Read(first, uint32(n)*recordSize)
	if !ok {
		return list
	}
	if found := (charList{d, text, raw}); found.agrees(n) {
		return found
	}
	return list
}

// agrees reports whether the engine answers what the records say: of the first
// of n characters, the last, and some between.
func (l charList) agrees(n int) bool {
	for k := range samples {
		i := k * (n - 1) / (samples - 1)
		m, _ := l.matrix(i)
		asked, known := charList{d: l.d, text: l.text}.matrix(i)
		if l.at(i) != l.asked(uint64(i)) || !known || m != asked {
			return false
		}
	}
	return true
}

// at returns the i-th record.
func (l charList) at(i int) record {
	if l.raw == nil {
		return l.asked(uint64(i))
	}
	b := l.raw[i*recordSize : (i+1)*recordSize]
	r := record{
		kind: kind(b[kindAt]), unicode: rune(binary.LittleEndian.Uint32(b[unicodeAt:])), object: uint64(binary.LittleEndian.Uint32(b[objectAt:])),
		x: single(b[originAt:]), y: single(b[originAt+4:]),
		left: single(b[boxAt:]), bottom: single(b[boxAt+4:]), right: single(b[boxAt+8:]), top: single(b[boxAt+12:]),
	}
	if r.kind > hyphen {
		r.kind = ordinary // one of several that a single glyph stands for
	}
	return r
}

// matrix returns how the text object of the i-th character lies, if the engine
// knows.
func (l charList) matrix(i int) (m pdf.Matrix, known bool) {
	var b []byte
	if l.raw != nil {
		b = l.raw[i*recordSize+matrixAt:]
	} else if int32(l.d.call("FPDFText_GetMatrix", l.text, uint64(i), l.d.at(0))) != 0 {
		b = l.d.scratch(24) // FS_MATRIX
	} else {
		return m, false
	}
	for k := range m {
		m[k] = single(b[4*k:])
	}
	return m, true
}

// asked returns the i-th record by asking for each part of it.
func (l charList) asked(i uint64) record {
	d := l.d
	yes := func(function string) bool { return int32(d.call(function, l.text, i)) == 1 }
	r := record{unicode: rune(d.call("FPDFText_GetUnicode", l.text, i)), object: d.call("FPDFText_GetTextObject", l.text, i)}
	switch {
	case yes("FPDFText_IsGenerated"):
		r.kind = generated
	case yes("FPDFText_HasUnicodeMapError"):
		r.kind = unmapped
	case yes("FPDFText_IsHyphen"):
		r.kind = hyphen
	}
	d.call("FPDFText_GetCharBox", l.text, i, d.at(0), d.at(1), d.at(2), d.at(3))
	d.call("FPDFText_GetCharOrigin", l.text, i, d.at(4), d.at(5))
	b := d.scratch(48) // left, right, bottom, top, x, y
	r.left, r.right, r.bottom, r.top = double(b), double(b[8:]), double(b[16:]), double(b[24:])
	r.x, r.y = double(b[32:]), double(b[40:])
	return r
}
