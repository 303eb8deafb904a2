package pdf

import (
	"encoding/binary"
	"regexp"
	"strings"
	"unicode/utf16"
)

// boldName and italicName match font names that say so, as foundries and
// typesetters abbreviate it.
var (
	boldName   = regexp.MustCompile(`(?i)bold|black|heavy|demi|cmbx|[-.,](?:b|bd|bi)(?:\+|\x00|$)`)
	italicName = regexp.MustCompile(`(?i)ital|obliq|slant|kursiv|cmti|cmsl|cmbxti|lmroman[a-z]*[0-9]*-it|[-.,](?:i|it|bi)(?:\+|\x00|$)`)
)

// document is a file open in the engine.
type document struct {
	*engine
	handle uint64
	data   uint64 // the file's bytes inside the machine
	pages  int
	fonts  map[uint64]face // by font handle
}

// open hands the file to pdfium.
func (e *engine) open(data []byte) (*document, fault) {
	ptr := e.call("malloc", uint64(len(data)))
	if ptr == 0 || !e.mod.Memory().Write(uint32(ptr), data) {
		return nil, faultEngine
	}
	d := &document{engine: e, data: ptr, fonts: map[uint64]face{}}
	d.handle = e.call("FPDF_LoadMemDocument", ptr, uint64(len(data)), 0)
	if d.handle == 0 {
		why := loadFault(e.call("FPDF_GetLastError"))
		e.call("free", ptr)
		if e.err != nil {
			return nil, faultEngine
		}
		return nil, why
	}
	d.pages = int(int32(e.call("FPDF_GetPageCount", d.handle)))
	return d, faultNone
}

// loadFault names pdfium's FPDF_GetLastError codes (fpdfview.h).
func loadFault(code uint64) fault {
	switch code {
	case 4, 5: // password, security scheme
		return faultProtected
	default: // unknown, file, format, page
		return faultDamaged
	}
}

// pageless says why a file that opened shows no pages: where they are encrypted,
// the password was right but the rest does not decipher.
func (d *document) pageless() fault {
	if int32(d.call("FPDF_GetSecurityHandlerRevision", d.handle)) >= 0 {
		return faultCipher
	}
	return faultNoPages
}

func (d *document) close() {
	d.call("FPDF_CloseDocument", d.handle)
	d.call("free", d.data)
}

// title returns the title in the document's information.
func (d *document) title() string {
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
}

// face returns the look of a font by its flags and its name. The engine's own
// figure for weight is a guess from the width of stems and calls common text
// fonts bold.
func (d *document) face(font uint64) face {
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
		name := d.scratch(n)
		f.italic = f.italic || italicName.Match(name)
		if f.weight = max(f.weight, 400); boldName.Match(name) {
			f.weight = 700
		}
	}
	d.fonts[font] = f
	return f
}
