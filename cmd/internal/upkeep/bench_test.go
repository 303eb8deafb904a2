package upkeep

import (
	"strings"
	"testing"
)

func TestPrintBench(t *testing.T) {
	b := readBench{Files: 2, Pages: 30, Processors: 2, Ingest: 1.5, PagesPerSecond: 20, IngestCPU: 2, Steps: map[string]float64{"claims": 0.25}}
	for _, c := range []struct {
		name       string
		text, cpu  float64
		ocr        int
		want, miss []string
	}{
		{"alone", 0, 0, 0, []string{"20 pages a second", "claims", "0.25 s", "it is not installed"}, []string{"with OCR", "times as long"}},
		{"beside pdftotext", 0.5, 0.4, 0, []string{"3.00 times as long", "5.00 times as much, on 2 processors 2.50 times"}, []string{"with OCR", "not installed"}},
		{"with OCR", 0.5, 0.4, 1, []string{"with OCR", "1 page read from pictures, which took 4.00 s"}, []string{"not installed"}},
	} {
		b := b
		b.PDFToText, b.PDFToTextCPU = c.text, c.cpu
		if c.text > 0 {
			b.Ratio = b.Ingest / c.text
		}
		if c.ocr > 0 {
			b.OCRPages, b.IngestOCR, b.OCRSeconds = c.ocr, 5, 4
		}
		var out strings.Builder
		if err := b.print(&out); err != nil {
			t.Fatal(err)
		}
		for _, w := range c.want {
			if !strings.Contains(out.String(), w) {
				t.Errorf("%s: %q is missing in\n%s", c.name, w, out.String())
			}
		}
		for _, w := range c.miss {
			if strings.Contains(out.String(), w) {
				t.Errorf("%s: %q stands in\n%s", c.name, w, out.String())
			}
		}
	}
}
