package pdf

import (
	"encoding/binary"
	"regexp"
	"strings"
	"unicode/utf16"
)

// boldName matches font names that say bold, as foundries and typesetters
// abbreviate it.
var boldName = regexp.MustCompile(`(?i)bold|black|heavy|demi|cmbx|[-.,](?:b|bd|bi)(?:\+|\x00|$)`)

// document is a file open in the engine.
type document struct {
	*engine
	handle uint64
	data   uint64 // the file's bytes inside the machine
	pages  int
	fonts  map[uint64]int16 // weight by font handle
}

// open hands the file to pdfium.
func (e *engine) open(data []byte) (*document, fault) {
	ptr := e.call("malloc", uint64(len(data)))
	if ptr == 0 || !e.mod.Memory().Write(uint32(ptr), data) {
		return nil, faultEngine
	}
	d := &document{engine: e, data: ptr, fonts: map[uint64]int16{}}
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

// fontForceBold is the flag of a font descriptor that asks for bold drawing (ISO
// 32000-1, table 123).
const fontForceBold = 1 << 18

// weight returns the weight of a font by its flag and its name. The engine's own
// figure is a guess from the width of stems and calls common text fonts bold.
func (d *document) weight(font uint64) int16 {
	if font == 0 {
		return 0
	}
	if w, ok := d.fonts[font]; ok {
		return w
	}
	w := int16(0)
	if flags := uint32(d.call("FPDFFont_GetFlags", font)); flags&fontForceBold != 0 {
		w = 700
	}
	n := uint32(d.call("FPDFFont_GetBaseFontName", font, d.at(0), bufSize))
	if n > 0 && n <= bufSize {
		if boldName.Match(d.scratch(n)) {
			w = 700
		} else {
			w = max(w, 400)
		}
	}
	d.fonts[font] = w
	return w
}
