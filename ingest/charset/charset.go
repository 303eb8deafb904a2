// Package charset turns the bytes of a text file into text.
//
// It refuses to guess among old character sets: what is marked or valid as Unicode
// is read as that, and all else as Windows-1252.
package charset

import (
	"bytes"
	"encoding/binary"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// Byte order marks.
var (
	markUTF8    = []byte{0xEF, 0xBB, 0xBF}
	markUTF16LE = []byte{0xFF, 0xFE}
	markUTF16BE = []byte{0xFE, 0xFF}
)

// IsUnicode reports whether the bytes are valid as UTF-8 without a byte order mark.
func IsUnicode(data []byte) bool { return utf8.Valid(data) && !hasMark(data) }

func hasMark(data []byte) bool {
	return bytes.HasPrefix(data, markUTF8) || bytes.HasPrefix(data, markUTF16LE) || bytes.HasPrefix(data, markUTF16BE)
}

// lost stands for what is no character.
const lost = "\uFFFD"

// Text returns the text of a file with plain line ends: by its byte order mark, else
// as UTF-8 if it is valid, else as Windows-1252, in which the old text files of the
// trade were written.
func Text(data []byte) string {
	var s string
	switch {
	case bytes.HasPrefix(data, markUTF8):
		s = strings.ToValidUTF8(string(data[3:]), lost)
	case bytes.HasPrefix(data, markUTF16LE):
		s = utf16Text(data[2:], binary.LittleEndian)
	case bytes.HasPrefix(data, markUTF16BE):
		s = utf16Text(data[2:], binary.BigEndian)
	case utf8.Valid(data):
		s = string(data)
	default:
		s = windows1252(data)
	}
	s = strings.ReplaceAll(s, "\r\n", "\n")
	s = strings.ReplaceAll(s, "\r", "\n")
	return strings.ReplaceAll(s, "\x00", lost)
}

func utf16Text(data []byte, order binary.ByteOrder) string {
	units := make([]uint16, len(data)/2)
	for i := range units {
		units[i] = order.Uint16(data[2*i:])
	}
	return string(utf16.Decode(units))
}

// upper1252 holds the characters 0x80 to 0x9F of Windows-1252; the five codes
// that it leaves open are lost. (Unicode consortium's mapping table CP1252.)
const upper1252 = "€\uFFFD‚ƒ„…†‡ˆ‰Š‹Œ\uFFFDŽ\uFFFD\uFFFD‘’“”•–—˜™š›œ\uFFFDžŸ"

func windows1252(data []byte) string {
	upper := []rune(upper1252)
	var b strings.Builder
	for _, c := range data {
		if c >= 0x80 && c < 0xA0 {
			b.WriteRune(upper[c-0x80])
			continue
		}
		b.WriteRune(rune(c))
	}
	return b.String()
}
