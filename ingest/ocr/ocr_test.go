package ocr

import (
	"bytes"
	"image"
	"image/png"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hatchlore/ingest/pdf"
)

const table = "level\tpage_num\tblock_num\tpar_num\tline_num\tword_num\tleft\ttop\twidth\theight\tconf\ttext\n" +
	"1\t1\t0\t0\t0\t0\t0\t0\t600\t800\t-1\t\n" +
	"5\t1\t1\t1\t1\t1\t100\t50\t40\t10\t96.5\tat\n" +
	"5\t1\t1\t1\t1\t2\t150\t50\t20\t10\t88\t10\n" +
	"5\t1\t1\t1\t2\t1\t100\t70\t60\t12\t91\toC,\n" +
	"5\t1\t1\t1\t2\t2\t170\t70\tx\t12\t91\tbroken\n" +
	"5\t1\t1\t2\t1\t1\t100\t99\t60\t12\t12\t \n" +
	"5\t1\t2\t1\t1\t1\t100\t120\t60\t12\t77\teggs\n" +
	"5\t1\t2"

func TestParseTSV(t *testing.T) {
	want := []Word{
		{"at", 100, 50, 140, 60, 96.5, 1, 1},
		{"10", 150, 50, 170, 60, 88, 1, 1},
		{"oC,", 100, 70, 160, 82, 91, 2, 1},
		{"eggs", 100, 120, 160, 132, 77, 3, 2},
	}
	if diff := cmp.Diff(want, parseTSV(table)); diff != "" {
		t.Errorf("words (-want +got):\n%s", diff)
	}
}

func TestChars(t *testing.T) {
	chars := Chars(parseTSV(table), 144)
	var text strings.Builder
	for _, c := range chars {
		text.WriteRune(c.Rune)
		if c.Flags&pdf.Generated != 0 && c.Left != c.Right {
			t.Errorf("a generated %q has a width", c.Rune)
		}
	}
	if got, want := text.String(), "at 10\noC,\neggs"; got != want {
		t.Errorf("text %q, want %q", got, want)
	}
	// At 144 dots an inch a pixel is half a point.
	if c := chars[0]; c.Left != 50 || c.Right != 60 || c.Top != 25 || c.Bottom != 30 {
		t.Errorf("the first character stands at %+v", c)
	}
}

func FuzzParseTSV(f *testing.F) {
	f.Add(table)
	f.Add("5\t1\t1\t1\t1\t1\t-5\t99999999999\t1\t1\tNaN\t\xff")
	f.Fuzz(func(t *testing.T, s string) {
		words := parseTSV(s)
		for _, w := range words {
			if w.Text == "" || w.Right < w.Left || w.Bottom < w.Top {
				t.Errorf("unsound word %+v", w)
			}
		}
		Chars(words, 300)
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
	words, err := e.Read(t.Context(), b.Bytes(), 100, "en")
	if err != nil || len(words) != 0 {
		t.Errorf("an empty page gave %v, %v", words, err)
	}
	if _, err := e.Read(t.Context(), []byte("no picture"), 100, "en"); err == nil {
		t.Error("what is no picture was read")
	}
}
