package pdfium

import (
	"encoding/binary"
	"strings"
	"unicode/utf16"

	"hatchlore/ingest/pdf"
)

// Document is a file open in the engine.
type Document struct {
	*Engine
	Pages  int
	handle uint64
	data   uint64          // the file's bytes inside the machine
	fonts  map[uint64]face // by font handle
}

// Open hands a file to pdfium. The error is [pdf.ErrProtected],
// [pdf.ErrDamaged] or, with the engine lost, [pdf.ErrEngine].
func (e *Engine) Open(data []byte) (*Document, error) {
	ptr := e.call("malloc", uint64(len(data)))
	if ptr == 0 || !e.mod.Memory().Write(uint32(ptr), data) {
		return nil, pdf.ErrEngine
	}
	d := &Document{Engine: e, data: ptr, fonts: map[uint64]face{}}
	d.handle = e.call("FPDF_LoadMemDocument", ptr, uint64(len(data)), 0)
	if d.handle == 0 {
		why := loadError(e.call("FPDF_GetLastError"))
		e.call("free", ptr)
		if e.err != nil {
			return nil, pdf.ErrEngine
		}
		return nil, why
	}
	d.Pages = int(int32(e.call("FPDF_GetPageCount", d.handle)))
	return d, nil
}

// loadError names pdfium's FPDF_GetLastError codes (fpdfview.h).
func loadError(code uint64) error {
	switch code {
	case 4, 5: // password, security scheme
		return pdf.ErrProtected
	default: // unknown, file, format, page
		return pdf.ErrDamaged
	}
}

// Pageless says why a file that opened shows no pages: where they are encrypted,
// the password was right but the rest does not decipher.
func (d *Document) Pageless() error {
	if int32(d.call("FPDF_GetSecurityHandlerRevision", d.handle)) >= 0 {
		return pdf.ErrCipher
	}
	return pdf.ErrNoPages
}

// Close lets go of the file.
func (d *Document) Close() {
	d.call("FPDF_CloseDocument", d.handle)
	d.call("free", d.data)
}

// Title returns the title in the document's information.
func (d *Document) Title() string {
	if !d.mod.Memory().WriteString(uint32(d.at(0)), "Title\x00") {
		return ""
	}
	n := uint32(d.call("FPDF_GetMetaText", d.handle, d.at(0), d.at(1), bufSize-8))
	if n < 2 || n > bufSize-8 {
		return ""
	}
	b := d.scratch(8 + n)[8:]
	units := make([]uint16, 0, n/2)
	for i := 0; i+1 < len(b); i += 2 {
		units = append(units, binary.LittleEndian.Uint16(b[i:]))
	}
	return strings.TrimSpace(strings.TrimRight(string(utf16.Decode(units)), "\x00"))
}

// Flags of a font descriptor (ISO 32000-1, table 123).
const (
	fontItalic    = 1 << 6
	fontForceBold = 1 << 18 // asks for bold drawing
)

// face is how a font looks.
type face struct {
	weight int16 // 400 regular, 700 bold, 0 unknown
	italic bool
	signs  bool
}

// face returns the look of a font by its flags and its name. The engine's own
// figure for weight is a guess from the width of stems and calls common text
// fonts bold.
func (d *Document) face(font uint64) face {
	if font == 0 {
		return face{}
	}
	if f, ok := d.fonts[font]; ok {
		return f
	}
	flags := uint32(d.call("FPDFFont_GetFlags", font))
	if int32(flags) < 0 {
		flags = 0 // the engine does not know
	}
	f := face{italic: flags&fontItalic != 0}
	if flags&fontForceBold != 0 {
		f.weight = 700
	}
	n := uint32(d.call("FPDFFont_GetBaseFontName", font, d.at(0), bufSize))
	if n > 0 && n <= bufSize {
		name := string(d.scratch(n))
		bold, italic := pdf.Face(name)
		f.italic, f.signs = f.italic || italic, pdf.HasSigns(name)
		if f.weight = max(f.weight, 400); bold {
			f.weight = 700
		}
	}
	d.fonts[font] = f
	return f
}
