package layout

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hatchlore/ingest"
	"hatchlore/ingest/ingesttest"
	"hatchlore/ingest/pdf/pdftest"
)

// show is an operator sequence that shows text at a place. Octal codes are those of
// WinAnsi: \260 °, \261 ±, \255 a soft hyphen, \267 a middle dot, \275 ½.
func show(font string, x, y, size float64, text string) string {
	return fmt.Sprintf("BT /%s %g Tf 1 0 0 1 %g %g Tm (%s) Tj ET\n", font, size, x, y, text)
}

const handLine = "The eggs of the shrimp were taken from the mud of the pool in the dry part of a year."

// page is a page of running text with one line to look at.
func page(operators ...string) string {
	var b strings.Builder
	for i := range 6 {
		b.WriteString(show("F1", 20, float64(560-14*i), 9, handLine))
	}
	for _, o := range operators {
		b.WriteString(o)
	}
	for i := range 6 {
		b.WriteString(show("F1", 20, float64(440-14*i), 9, handLine))
	}
	return b.String()
}

// TestHandmadePages: what typesetters' files hold that no browser writes. As on the
// hostile pages, no number is read that is not printed.
func TestHandmadePages(t *testing.T) {
	read := pdfReader(t)
	for _, c := range []struct {
		name    string
		content string
		numbers string
		want    []string
	}{
		{"text drawn invisibly", page(show("F1", 20, 470, 9, "They were held at 12 \\260C for 30 days."), "BT 3 Tr /F1 9 Tf 20 455 Td (Also at 99 \\260C for 98 days.) Tj 0 Tr ET\n"),
			"12 30", []string{"12 °C for 30 days"}},
		{"white text", page(show("F1", 20, 470, 9, "They were held at 12 \\260C for 30 days."), "1 g\n", show("F1", 20, 455, 9, "Also at 99 \\260C for 98 days."), "0 g\n"),
			"12 30", []string{"12 °C for 30 days"}},
		{"white text on a dark ground", page("0 g 15 465 200 14 re f 1 g\n", show("F1", 20, 470, 9, "They were held at 12 \\260C for 30 days."), "0 g\n"),
			"12 30", []string{"12 °C for 30 days"}},
		{"text off the page", page(show("F1", 20, 470, 9, "They were held at 12 \\260C for 30 days."), show("F1", 450, 470, 9, "Also 99 \\260C."), show("F1", 20, -40, 9, "98 days"), show("F1", 20, 700, 9, "97 eggs")),
			"12 30", []string{"12 °C for 30 days"}},
		{"bold by printing twice", page(show("F1", 20, 470, 9, "They were held at 12 \\260C for 30 days."), show("F1", 20.3, 470, 9, "They were held at 12 \\260C for 30 days.")),
			"12 30", []string{"12 °C for 30 days"}},
		{"a shadow", page("0.7 g\n", show("F1", 21, 469, 9, "They were held at 12 \\260C for 30 days."), "0 g\n", show("F1", 20, 470, 9, "They were held at 12 \\260C for 30 days.")),
			"12 30", []string{"12 °C for 30 days"}},
		{"a soft hyphen as a hyphen", page(show("F1", 20, 470, 9, "They were held at 10\\25515 \\260C for 3\\2555 days.")),
			"10 15 3 5", []string{"10-15 °C for 3-5 days"}},
		{"signs of another font", page(show("F1", 20, 470, 9, "They were held at 20 "), show("F3", 97, 470, 9, "6"), show("F1", 105, 470, 9, "1"), show("F3", 110.5, 470, 9, "8"), show("F1", 116, 470, 9, "C, n "), show("F3", 137, 470, 9, "5"), show("F1", 145, 470, 9, "12.")),
			"20 1 12", []string{"20 ± 1 °C, n = 12"}},
		{"a decimal point drawn after its number", page(show("F1", 20, 470, 9, "They were held at 28  89 \\260C."), show("F1", 103, 470, 9, "\\267")),
			"28·89", nil},
		{"numbers that almost touch", page(show("F1", 20, 470, 9, "12.5"), show("F1", 39, 470, 9, "3.1"), show("F1", 54.5, 470, 9, "60"), show("F1", 66.5, 470, 9, "70")),
			"12.5 3.1 60 70", nil},
		{"an exponent beside a number", page(show("F1", 20, 470, 9, "About 10"), show("F1", 56, 474, 6, "3"), show("F1", 62, 470, 9, "eggs were held at 25"), show("F1", 145, 474, 6, "1"), show("F1", 150, 470, 9, "\\260C.")),
			"10 25", []string{"About 10³ eggs were held at 25¹"}},
		{"a page number beside the last line", page(show("F1", 20, 20, 9, "and the last of all of the eggs hatched after 30"), show("F1", 380, 20, 9, "217")),
			"30", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			objects := pdftest.Pages("", c.content)
			objects = append(objects, pdftest.Object{Dict: "/Type /Font /Subtype /Type1 /BaseFont /MathematicalPi-One /Encoding /WinAnsiEncoding"})
			for i := range objects {
				objects[i].Dict = strings.Replace(objects[i].Dict, "/F2 4 0 R", fmt.Sprintf("/F2 4 0 R /F3 %d 0 R", len(objects)), 1)
			}
			doc := Assemble("made.pdf", "", read(pdftest.Save(t, "made.pdf", pdftest.Write(objects, ""))))
			ingesttest.Sound(t, doc)
			checkFigures(t, doc.Pages[0], strings.Fields(c.numbers), c.want)
		})
	}
}

// TestRuledTables: rules between the cells of a table are no text, and part no row.
func TestRuledTables(t *testing.T) {
	rows := [][]string{{"Cold (d)", "5 \\260C", "12 \\260C"}, {"0", "2", "0"}, {"30", "61", "45.5"}, {"120", "58", "60"}}
	edges := []float64{20, 110, 170, 240}
	var text, all, booktabs strings.Builder
	for i, row := range rows {
		y := 460 - 16*float64(i)
		for k, cell := range row {
			text.WriteString(show("F1", edges[k]+4, y, 9, cell))
			fmt.Fprintf(&all, "%g %g %g 16 re S\n", edges[k], y-5, edges[k+1]-edges[k])
		}
		if i < 2 || i == len(rows)-1 {
			fmt.Fprintf(&booktabs, "%g %g m %g %g l S\n", edges[0], y-5, edges[3], y-5)
		}
	}
	read := pdfReader(t)
	for name, rules := range map[string]string{"a box round every cell": all.String(), "rules above and below": booktabs.String(), "none": ""} {
		content := page("0.5 w\n", rules, text.String())
		doc := Assemble("made.pdf", "", read(pdftest.Save(t, "made.pdf", pdftest.Write(pdftest.Pages("", strings.ReplaceAll(content, "440", "340")), ""))))
		ingesttest.Sound(t, doc)
		want := []string{"!Cold (d)|5 °C|12 °C", "0|2|0", "30|61|45.5", "120|58|60"}
		if diff := cmp.Diff(want, ingesttest.Rows(doc.Pages[0])); diff != "" {
			t.Errorf("%s: %s\nread as %q", name, diff, doc.Pages[0].Text)
		}
	}
}

// TestTextLayer: on the picture of a page, with its text laid invisibly over it, every
// number is marked as read by a machine.
func TestTextLayer(t *testing.T) {
	content := "q 400 0 0 600 0 0 cm /Im1 Do Q 3 Tr\n" + page(show("F1", 20, 470, 9, "They were held at 12 \\260C for 30 days."))
	objects := pdftest.Pages("", content)
	objects = append(objects, pdftest.Object{Dict: "/Type /XObject /Subtype /Image /Width 1 /Height 1 /ColorSpace /DeviceGray /BitsPerComponent 8", Stream: []byte{200}})
	for i := range objects {
		objects[i].Dict = strings.Replace(objects[i].Dict, "/Resources <<", fmt.Sprintf("/Resources <</XObject <</Im1 %d 0 R>> ", len(objects)), 1)
	}
	doc := Assemble("made.pdf", "", pdfReader(t)(pdftest.Save(t, "made.pdf", pdftest.Write(objects, ""))))
	if p := doc.Pages[0]; p.How != ingest.ByOCR || p.Why != ingest.WhyScan || !strings.Contains(p.Text, "12 °C for 30 days") {
		t.Errorf("read by %s (%s): %q", p.How, p.Why, p.Text)
	}
}
