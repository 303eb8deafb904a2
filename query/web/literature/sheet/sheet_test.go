package sheet

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"hatchlore/ingest"
)

func TestBoxes(t *testing.T) {
	page := ingest.Page{Text: "They hatched at 8 °C\nin the moss.\n3\t0\t31", Lines: []ingest.Line{
		{Start: 0, End: 21, X: 50, Y: 100, Width: 200, Size: 10},
		{Start: 22, End: 34, X: 50, Y: 112, Width: 110, Size: 10},
		{Start: 35, End: 41, X: 300, Y: 200, Width: 90, Size: 9},
	}}
	got := Boxes(page, Stretch{5, 28})
	if len(got) != 2 {
		t.Fatalf("%d boxes: %v", len(got), got)
	}
	// From behind "They " to the end of the line; then "in the".
	if b := got[0]; b.Left < 80 || b.Left > 110 || math.Abs(b.Left+b.Width-250) > 0.01 || b.Top > 93 || b.Top+b.Height < 101 {
		t.Errorf("first line: %+v", b)
	}
	if b := got[1]; b.Left != 50 || b.Width < 35 || b.Width > 65 {
		t.Errorf("second line: %+v", b)
	}
	if got := Boxes(page, Stretch{37, 38}); len(got) != 1 || got[0].Left != 300 || got[0].Width != 90 {
		t.Errorf("a cell of a table: %v, want its whole row", got)
	}
	if got := Boxes(ingest.Page{Text: "plain", Lines: []ingest.Line{{End: 5}}}, Stretch{0, 5}); got != nil {
		t.Errorf("a page without geometry: %v", got)
	}
}

func TestBytes(t *testing.T) {
	text := "8 °C, µS"
	if got := Bytes(text, 2, 4); text[got.Start:got.End] != "°C" {
		t.Errorf("%q", text[got.Start:got.End])
	}
	if got := Bytes(text, 6, 8); text[got.Start:got.End] != "µS" {
		t.Errorf("to the end: %q", text[got.Start:got.End])
	}
	if got := Bytes(text, 50, 60); got.Start != len(text) || got.End != len(text) {
		t.Errorf("past the end: %v", got)
	}
}

func TestPieces(t *testing.T) {
	text := "Eggs hatched; eggs dried."
	// A stretch that reaches beyond the text, or back into the one before, is left out.
	got := Pieces(text, []Stretch{{0, 4}, {2, 6}, {14, 18}, {20, 99}})
	whole, marked := "", 0
	for _, p := range got {
		whole += p.Text
		if p.Marked {
			marked++
		}
	}
	if whole != text || marked != 2 || !got[0].First {
		t.Errorf("%+v", got)
	}
}

// drawn is a picture of 10 by 20 pixels, and how often it was drawn.
func drawn(t *testing.T, times *atomic.Int32) Draw {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 10, 20))); err != nil {
		t.Fatal(err)
	}
	return func(context.Context, string, int, int) ([]byte, error) {
		times.Add(1)
		time.Sleep(20 * time.Millisecond)
		return b.Bytes(), nil
	}
}

func onePage() Page {
	return Page{Hash: strings.Repeat("0", 64), Page: 1, DPI: 72, File: func(context.Context) (string, error) { return "a.pdf", nil }}
}

func TestPicturesAreDrawnOnce(t *testing.T) {
	var times atomic.Int32
	p := NewPictures(filepath.Join(t.TempDir(), "pages"), 1<<20, drawn(t, &times))
	page := onePage()
	var group sync.WaitGroup
	for range 8 {
		group.Go(func() {
			if pic, err := p.Get(t.Context(), page); err != nil || pic.Width != 10 || pic.Height != 20 {
				t.Errorf("%v by %v, %v", pic.Width, pic.Height, err)
			}
		})
	}
	group.Wait()
	if n := times.Load(); n != 1 {
		t.Errorf("drawn %d times", n)
	}
}

func TestFileThatIsNotFound(t *testing.T) {
	var times atomic.Int32
	p := NewPictures(t.TempDir(), 1<<20, drawn(t, &times))
	page, gone := onePage(), errors.New("gone")
	page.File = func(context.Context) (string, error) { return "", gone }
	if _, err := p.Get(t.Context(), page); !errors.Is(err, gone) || times.Load() != 0 {
		t.Errorf("%v, drawn %d times", err, times.Load())
	}
}

// The folder stays within its bound, and what was looked at last stays.
func TestRoomIsBounded(t *testing.T) {
	var times atomic.Int32
	dir := t.TempDir()
	draw := drawn(t, &times)
	one, err := draw(t.Context(), "", 1, 72)
	if err != nil {
		t.Fatal(err)
	}
	p := NewPictures(dir, int64(3*len(one)), draw)
	page := onePage()
	for n := range 10 {
		page.Page = n + 1
		if _, err := p.Get(t.Context(), page); err != nil {
			t.Fatal(err)
		}
	}
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != 3 {
		t.Errorf("%d pictures are kept, %v", len(entries), err)
	}
	before := times.Load()
	if _, err := p.Get(t.Context(), page); err != nil || times.Load() != before {
		t.Errorf("the last page was drawn again, or %v", err)
	}
}

// A page that is damaged on disk is drawn anew.
func TestDamagedPictureIsDrawnAgain(t *testing.T) {
	var times atomic.Int32
	dir := t.TempDir()
	p := NewPictures(dir, 1<<20, drawn(t, &times))
	page := onePage()
	if err := os.WriteFile(filepath.Join(dir, page.Hash+"-1-72.png"), []byte("torn"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := p.Get(t.Context(), page); err != nil || times.Load() != 1 {
		t.Errorf("%v, drawn %d times", err, times.Load())
	}
}
