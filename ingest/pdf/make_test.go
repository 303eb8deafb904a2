package pdf

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// object is one object of a PDF written by hand: its dictionary and, if it has
// one, its stream.
type object struct {
	dict   string
	stream []byte
}

// write puts objects into a PDF with a right cross-reference table. The first
// object must be the catalogue; trailer is added to the trailer's dictionary.
func write(objects []object, trailer string) []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.5\n")
	var offsets []int
	for i, o := range objects {
		offsets = append(offsets, b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n", i+1)
		if o.stream == nil {
			fmt.Fprintf(&b, "<<%s>>\n", o.dict)
		} else {
			fmt.Fprintf(&b, "<<%s /Length %d>>\nstream\n%s\nendstream\n", o.dict, len(o.stream), o.stream)
		}
		b.WriteString("endobj\n")
	}
	start := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for _, o := range offsets {
		fmt.Fprintf(&b, "%010d 00000 n \n", o)
	}
	fmt.Fprintf(&b, "trailer\n<</Size %d /Root 1 0 R %s>>\nstartxref\n%d\n%%%%EOF\n", len(objects)+1, trailer, start)
	return b.Bytes()
}

// pages returns the objects of a document with one page a content stream, each
// with the given entries in its dictionary, in Helvetica (F1) and its bold (F2).
func pages(entries string, contents ...string) []object {
	objects := []object{{dict: "/Type /Catalog /Pages 2 0 R"}, {}, {dict: "/Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding"},
		{dict: "/Type /Font /Subtype /Type1 /BaseFont /Helvetica-Bold /Encoding /WinAnsiEncoding"}}
	kids := ""
	for _, c := range contents {
		n := len(objects) + 1
		kids += fmt.Sprintf("%d 0 R ", n)
		objects = append(objects,
			object{dict: fmt.Sprintf("/Type /Page /Parent 2 0 R /MediaBox [0 0 400 600] /Contents %d 0 R /Resources <</Font <</F1 3 0 R /F2 4 0 R>>>> %s", n+1, entries)},
			object{stream: []byte(c)})
	}
	objects[1].dict = fmt.Sprintf("/Type /Pages /Kids [%s] /Count %d", kids, len(contents))
	return objects
}

// line is a content stream that shows one line of text.
func line(x, y int, text string) string {
	return fmt.Sprintf("BT /F1 12 Tf %d %d Td (%s) Tj ET\n", x, y, text)
}

// save writes a file into the test's folder and returns its path.
func save(t *testing.T, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// bomb returns a PDF whose one content stream unpacks to so many bytes of
// drawing without effect.
func bomb(t *testing.T, size int) []byte {
	t.Helper()
	var packed bytes.Buffer
	z, err := zlib.NewWriterLevel(&packed, zlib.BestSpeed)
	if err != nil {
		t.Fatal(err)
	}
	chunk := bytes.Repeat([]byte("q Q "), 1<<18)
	for n := 0; n < size; n += len(chunk) {
		if _, err := z.Write(chunk); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	objects := pages("", "")
	objects[len(objects)-1] = object{dict: "/Filter /FlateDecode", stream: packed.Bytes()}
	return write(objects, "")
}
