package reader

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	corpus "hatchlore/corpus-sample"
	"hatchlore/evidence/quantity"
	"hatchlore/ingest"
	"hatchlore/ingest/layout"
	"hatchlore/ingest/ocr"
	"hatchlore/ingest/pdf"
)

// wear is what scanning and copying do to a page.
type wear struct {
	name    string
	dpi     int
	skew    float64 // degrees
	noise   float64 // standard deviation of grey
	paper   float64 // grey of the paper, 255 for white
	quality int     // of the JPEG
	always  bool    // tried in every run of the tests
}

var wears = []wear{
	{"as scanned", 300, 0, 0, 255, 95, false},
	{"200 dpi", 200, 0, 0, 255, 80, false},
	{"askew by 1 degree", 200, 1, 4, 235, 60, false},
	{"askew by 2 degrees", 200, -2, 4, 235, 60, false},
	{"noise", 200, 0.5, 18, 245, 60, false},
	{"grey paper", 200, 0.5, 8, 190, 50, false},
	{"a poor JPEG", 200, 0.5, 4, 235, 18, false},
	{"all of it at 150 dpi", 150, 1.5, 14, 200, 25, false},
	{"hardly to be read", 100, 1, 18, 200, 25, true},
}

// TestWornScans wears the sample's scan and reads it: a figure with a unit that comes
// out otherwise than printed must be marked, so that a person looks at the picture.
// With -v it tells the rates, of all kinds of wear where HATCHLORE_TEST_SCANS is set.
func TestWornScans(t *testing.T) {
	engine, err := ocr.Find(t.Context())
	if err != nil {
		t.Skip("skipped: ", err)
	}
	const name = "haldersby-1962.pdf"
	printed := printedFigures(t, name)
	r := newReader(t, Options{})
	for _, w := range wears {
		t.Run(w.name, func(t *testing.T) {
			if !w.always && os.Getenv("HATCHLORE_TEST_SCANS") == "" {
				t.Skip("skipped: HATCHLORE_TEST_SCANS is not set, and pictures take seconds each")
			}
			file := &pdf.File{Engine: "pdfium"}
			for n := 1; n <= 3; n++ {
				picture, err := r.pdf.Picture(t.Context(), filepath.Join("..", "..", "..", "corpus-sample", "pdf", name), n, w.dpi)
				if err != nil {
					t.Fatal(err)
				}
				lines, err := engine.Read(t.Context(), w.apply(t, picture), w.dpi, "en")
				if err != nil {
					t.Fatal(err)
				}
				file.Pages = append(file.Pages, pdf.Page{Number: n, Width: 595, Height: 842, Scanned: true, Pictures: 1, Chars: ocr.Chars(lines, w.dpi)})
			}
			right, doubted, marked, wrong := holdAgainst(layout.Assemble(name, "", file), printed)
			t.Logf("of %d figures %d read as printed; places marked although right: %d; other figures marked: %d, not: %d", len(printed), right, doubted, marked, len(wrong))
			if len(wrong) > 0 {
				t.Errorf("read otherwise than printed, and not marked: %q", wrong)
			}
		})
	}
}

// printedFigures returns the quantities of a paper of the sample, as its labels have
// its text.
func printedFigures(t *testing.T, source string) map[string]bool {
	t.Helper()
	gold, err := corpus.Gold()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]bool{}
	for _, p := range gold {
		if p.Source == source {
			for _, q := range quantity.Find(p.Text) {
				out[figure(q)] = true
			}
		}
	}
	return out
}

// figure is a quantity's values and unit, however they are spaced.
func figure(q quantity.Quantity) string {
	var b strings.Builder
	for _, item := range q.Items {
		for _, v := range []*float64{item.Low, item.High} {
			if v != nil {
				fmt.Fprintf(&b, "%g ", *v)
			}
		}
	}
	return b.String() + string(q.Unit)
}

// holdAgainst counts the figures that a document has as printed, and those it has
// otherwise, with a mark and without.
func holdAgainst(doc *ingest.Document, printed map[string]bool) (right, doubted, marked int, wrong []string) {
	seen := map[string]bool{}
	for _, p := range doc.Pages {
		for _, b := range p.Blocks {
			if b.Section == ingest.SectionReferences {
				continue
			}
			for _, q := range quantity.Find(p.Text[b.Start:b.End]) {
				start, end := b.Start+q.Start, b.Start+q.End
				doubt := p.Marked(ingest.Suspect, start, end) || p.Marked(ingest.Untrusted, start, end) || p.Marked(ingest.Inferred, start, end)
				switch f := figure(q); {
				case printed[f]:
					if seen[f] = true; doubt {
						doubted++
					}
				case doubt:
					marked++
				default:
					wrong = append(wrong, q.Text)
				}
			}
		}
	}
	slices.Sort(wrong)
	return len(seen), doubted, marked, wrong
}

// apply wears a page's picture.
func (w wear) apply(t *testing.T, picture []byte) []byte {
	t.Helper()
	page, err := png.Decode(bytes.NewReader(picture))
	if err != nil {
		t.Fatal(err)
	}
	in := image.NewGray(page.Bounds())
	draw.Draw(in, in.Bounds(), page, page.Bounds().Min, draw.Src)
	out := image.NewGray(in.Bounds())
	rnd := rand.New(rand.NewPCG(1962, uint64(w.quality)))
	sin, cos := math.Sincos(w.skew * math.Pi / 180)
	cx, cy := float64(in.Bounds().Dx())/2, float64(in.Bounds().Dy())/2
	for y := range in.Bounds().Dy() {
		for x := range in.Bounds().Dx() {
			dx, dy := float64(x)-cx, float64(y)-cy
			v := greyAt(in, cx+dx*cos-dy*sin, cy+dx*sin+dy*cos)*w.paper/255 + w.noise*rnd.NormFloat64()
			out.SetGray(x, y, color.Gray{Y: uint8(max(0, min(255, v)))})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, out, &jpeg.Options{Quality: w.quality}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// greyAt is the grey between pixels, white off the page.
func greyAt(img *image.Gray, x, y float64) float64 {
	x0, y0 := int(math.Floor(x)), int(math.Floor(y))
	fx, fy := x-float64(x0), y-float64(y0)
	at := func(x, y int) float64 {
		if !(image.Point{X: x, Y: y}).In(img.Rect) {
			return 255
		}
		return float64(img.GrayAt(x, y).Y)
	}
	return (at(x0, y0)*(1-fx)+at(x0+1, y0)*fx)*(1-fy) + (at(x0, y0+1)*(1-fx)+at(x0+1, y0+1)*fx)*fy
}
