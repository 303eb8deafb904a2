// Package pdftest writes PDFs by hand for the tests of the packages around it.
// Nothing but tests imports it.
package pdftest

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// Object is one object of a PDF: its dictionary and, if it has one, its stream.
type Object struct {
	Dict   string
	Stream []byte
}

// Write puts objects into a PDF with a right cross-reference table. The first
// object must be the catalogue; trailer is added to the trailer's dictionary.
func Write(objects []Object, trailer string) []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.5\n")
	var offsets []int
	for i, o := range objects {
		offsets = append(offsets, b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n", i+1)
		if o.Stream == nil {
			fmt.Fprintf(&b, "<<%s>>\n", o.Dict)
		} else {
			fmt.Fprintf(&b, "<<%s /Length %d>>\nstream\n%s\nendstream\n", o.Dict, len(o.Stream), o.Stream)
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

// Pages returns the objects of a document with one page a content stream, each
// with the given entries in its dictionary, in Helvetica (F1) and its bold (F2).
func Pages(entries string, contents ...string) []Object {
	objects := []Object{{Dict: "/Type /Catalog /Pages 2 0 R"}, {}, {Dict: "/Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding"},
		{Dict: "/Type /Font /Subtype /Type1 /BaseFont /Helvetica-Bold /Encoding /WinAnsiEncoding"}}
	kids := ""
	for _, c := range contents {
		n := len(objects) + 1
		kids += fmt.Sprintf("%d 0 R ", n)
		objects = append(objects,
			Object{Dict: fmt.Sprintf("/Type /Page /Parent 2 0 R /MediaBox [0 0 400 600] /Contents %d 0 R /Resources <</Font <</F1 3 0 R /F2 4 0 R>>>> %s", n+1, entries)},
			Object{Stream: []byte(c)})
	}
	objects[1].Dict = fmt.Sprintf("/Type /Pages /Kids [%s] /Count %d", kids, len(contents))
	return objects
}

// Line is a content stream that shows one line of text.
func Line(x, y int, text string) string {
	return fmt.Sprintf("BT /F1 12 Tf %d %d Td (%s) Tj ET\n", x, y, text)
}

// Save writes a file into the test's folder and returns its path.
func Save(t *testing.T, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// Bomb returns a PDF whose one content stream unpacks to so many bytes of
// drawing without effect.
func Bomb(t *testing.T, size int) []byte {
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
	objects := Pages("", "")
	objects[len(objects)-1] = Object{Dict: "/Filter /FlateDecode", Stream: packed.Bytes()}
	return Write(objects, "")
}
