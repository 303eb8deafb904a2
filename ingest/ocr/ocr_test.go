package ocr

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hatchlore/ingest/pdf"
)

// hocr is a page of two lines askew, with what can be wrong in such an output:
// a word without a box, a letter without a place, an end in mid-word.
const hocr = `<?xml version="1.0" encoding="UTF-8"?><html><body>
<div class='ocr_page' title='image "a; b.png"; bbox 0 0 600 800'>
<p class='ocr_par' lang='eng' title="bbox 100 40 500 70">
<span class='ocr_line' title="bbox 100 40 500 72; baseline 0.01 -12; x_size 20; x_descenders 4; x_ascenders 5">
<span class='ocrx_word' title='bbox 100 50 130 60; x_wconf 96'>
<span class='ocrx_cinfo' title='x_bboxes 100 50 110 60; x_conf 99.1'>a</span>
<span class='ocrx_cinfo' title='x_bboxes 110 48 120 60; x_conf 98.9'>t</span></span>
<span class='ocrx_word' title='bbox 470 46 500 63; x_wconf 91'>
<span class='ocrx_cinfo' title='x_bboxes 470 50 480 63; x_conf 99'>1</span>
<span class='ocrx_cinfo' title='x_bboxes 480 50 490 63; x_conf 60.5'>0</span>
<span class='ocrx_cinfo' title='x_bboxes 491 46 496 52; x_conf 97'>3</span>
<span class='ocrx_cinfo' title='x_conf 97'>9</span></span>
<span class='ocrx_word' title='x_wconf 12'></span></span></p>
<p class='ocr_par'><span class='ocr_line' title="bbox 100 80 500 102; baseline 0.01 -6; x_size 21">
<span class='ocrx_word' title='bbox 100 80 140 100'><span class='ocrx_cinfo' title='x_bboxes 100 80 140 100; x_conf 95'>&amp;</span>
<span class='ocrx_cinfo' title='x_bbo`

func TestParseHOCR(t *testing.T) {
	lines := parseHOCR([]byte(hocr))
	if len(lines) != 2 {
		t.Fatalf("%d lines, want 2: %+v", len(lines), lines)
	}
	want := Line{Box: Box{100, 40, 500, 72}, Slope: 0.01, Base: 60, Size: 20, Paragraph: 1, Words: []Word{
		{Box: Box{100, 50, 130, 60}, Confidence: 96, Letters: []Letter{{Box{100, 50, 110, 60}, 'a', 99.1}, {Box{110, 48, 120, 60}, 't', 98.9}}},
		{Box: Box{470, 46, 500, 63}, Confidence: 91, Letters: []Letter{{Box{470, 50, 480, 63}, '1', 99}, {Box{480, 50, 490, 63}, '0', 60.5}, {Box{491, 46, 496, 52}, '3', 97}}},
	}}
	if diff := cmp.Diff(want, lines[0]); diff != "" {
		t.Errorf("first line (-want +got):\n%s", diff)
	}
	if got := lines[1].Words[0].Text(); got != "&" || lines[1].Paragraph != 2 {
		t.Errorf("second line %+v", lines[1])
	}
}

func TestChars(t *testing.T) {
	chars := Chars(parseHOCR([]byte(hocr)), 144)
	var text, unsure strings.Builder
	for _, c := range chars {
		text.WriteRune(c.Rune)
		if c.Flags&pdf.Generated != 0 && c.Left != c.Right {
			t.Errorf("a generated %q has a width", c.Rune)
		}
		if c.Flags&pdf.Unsure != 0 {
			unsure.WriteRune(c.Rune)
		}
	}
	if got, want := text.String(), "at 103\n&"; got != want {
		t.Errorf("text %q, want %q", got, want)
	}
	if unsure.String() != "0" {
		t.Errorf("unsure of %q, want 0", unsure.String())
	}
	// At 144 dots an inch a pixel is half a point; the page is set level.
	near := func(a, b float32) bool { return math.Abs(float64(a-b)) < 0.01 }
	first, one, three, next := chars[0], chars[3], chars[5], chars[7]
	if first.Left != 50 || first.Right != 55 || !near(first.Origin, 29.5) || !near(first.Size, 10) {
		t.Errorf("the first letter stands at %+v", first)
	}
	if !near(one.Origin, first.Origin) {
		t.Errorf("one line has the baselines %g and %g", first.Origin, one.Origin)
	}
	if rise := one.Origin - three.Origin; rise < 4 || three.Size > 8 {
		t.Errorf("the exponent stands %g above the line in size %g", rise, three.Size)
	}
	if next.Size != first.Size {
		t.Errorf("lines of one type have the sizes %g and %g", first.Size, next.Size)
	}
}

// TestUnsureWords: a word of which tesseract is unsure has no sure letter, whatever it
// says of each.
func TestUnsureWords(t *testing.T) {
	const sure, not = "x_wconf 95", "x_wconf 69"
	for conf, want := range map[string]bool{sure: false, not: true, "": false} {
		lines := parseHOCR([]byte(`<span class='ocr_line' title="bbox 0 0 100 20"><span class='ocrx_word' title='bbox 0 0 20 20; ` + conf +
			`'><span class='ocrx_cinfo' title='x_bboxes 0 0 10 20; x_conf 99'>6</span></span></span>`))
		chars := Chars(lines, 300)
		if len(chars) != 1 || (chars[0].Flags&pdf.Unsure != 0) != want {
			t.Errorf("%q: %+v", conf, chars)
		}
	}
}

// TestInStep: letters whose boxes run into each other share the word.
func TestInStep(t *testing.T) {
	box := func(left, right float64) Letter { return Letter{Box: Box{left, 0, right, 10}, Rune: 'x'} }
	lefts := func(letters ...Letter) (out []float64) {
		for _, l := range inStep(Word{Box: Box{0, 0, 40, 10}, Letters: letters}) {
			out = append(out, l.Left)
		}
		return out
	}
	for _, c := range []struct{ got, want []float64 }{
		{lefts(box(0, 12), box(9, 20), box(22, 40)), []float64{0, 9, 22}},
		{lefts(box(13, 20), box(0, 30), box(30, 40), box(31, 40)), []float64{0, 10, 20, 30}},
		{lefts(box(0, 30), box(12, 20)), []float64{0, 20}},
	} {
		if diff := cmp.Diff(c.want, c.got); diff != "" {
			t.Errorf("left edges (-want +got):\n%s", diff)
		}
	}
}

func FuzzParseHOCR(f *testing.F) {
	f.Add(hocr)
	f.Add("<span class='ocr_line' title='bbox 1 1 -5 NaN; x_size 1e999'><span class='ocrx_word' title='bbox'>\xff")
	f.Fuzz(func(t *testing.T, s string) {
		lines := parseHOCR([]byte(s))
		for _, l := range lines {
			if len(l.Words) == 0 || l.Right < l.Left || l.Bottom < l.Top || l.Size < 0 {
				t.Errorf("unsound line %+v", l)
			}
			for _, w := range l.Words {
				if w.Text() == "" {
					t.Errorf("a word without letters in %+v", l)
				}
			}
		}
		Chars(lines, 300)
	})
}

func TestChoose(t *testing.T) {
	e := &Engine{languages: []string{"deu", "eng", "frk"}}
	for lang, want := range map[string]string{"de": "deu", "": "eng+deu", "fr": "eng+deu"} {
		if got := e.choose(lang); got != want {
			t.Errorf("choose(%q) = %q, want %q", lang, got, want)
		}
	}
	if got := (&Engine{languages: []string{"pol"}}).choose("en"); got != "pol" {
		t.Errorf("with Polish alone: %q", got)
	}
}

// The real program must take a picture and give back its words. Pictures with
// text are read in the tests of the command; an empty page is enough here to
// see that the options are still understood.
func TestReadEmptyPage(t *testing.T) {
	e, err := Find(t.Context())
	if err != nil {
		t.Skip("skipped: ", err)
	}
	page := image.NewGray(image.Rect(0, 0, 600, 800))
	for i := range page.Pix {
		page.Pix[i] = 0xff
	}
	var b bytes.Buffer
	if err := png.Encode(&b, page); err != nil {
		t.Fatal(err)
	}
	lines, err := e.Read(t.Context(), b.Bytes(), 100, "en")
	if err != nil || len(lines) != 0 {
		t.Errorf("an empty page gave %v, %v", lines, err)
	}
	if _, err := e.Read(t.Context(), []byte("no picture"), 100, "en"); err == nil {
		t.Error("what is no picture was read")
	}
}
