package counts

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"io"
	"strings"
	"unicode/utf16"
)

// csvOf reads CSV as spreadsheets write it: with a byte-order mark or none, in
// UTF-8 or UTF-16, and with semicolons or tabs where a comma stands for the decimal
// point.
func csvOf(r io.Reader) (*csv.Reader, error) {
	b := bufio.NewReader(r)
	start, _ := b.Peek(3)
	switch {
	case bytes.HasPrefix(start, []byte{0xEF, 0xBB, 0xBF}):
		_, _ = b.Discard(3)
	case bytes.HasPrefix(start, []byte{0xFF, 0xFE}):
		return fromUTF16(b, binary.LittleEndian)
	case bytes.HasPrefix(start, []byte{0xFE, 0xFF}):
		return fromUTF16(b, binary.BigEndian)
	}
	return separated(b), nil
}

func fromUTF16(r io.Reader, order binary.ByteOrder) (*csv.Reader, error) {
	raw, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	words := make([]uint16, len(raw)/2)
	for i := range words {
		words[i] = order.Uint16(raw[2*i:])
	}
	return separated(bufio.NewReader(strings.NewReader(string(utf16.Decode(words[min(1, len(words)):]))))), nil
}

// separated finds what separates the cells: the first line names the columns, none
// of which has such a sign in its name.
func separated(b *bufio.Reader) *csv.Reader {
	head, _ := b.Peek(b.Size())
	line, _, _ := bytes.Cut(head, []byte("\n"))
	out := csv.NewReader(b)
	for _, sign := range ";\t" {
		if bytes.ContainsRune(line, sign) && !bytes.ContainsRune(line, ',') {
			out.Comma = sign
		}
	}
	return out
}
