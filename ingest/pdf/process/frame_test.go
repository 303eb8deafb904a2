package process

import (
	"bufio"
	"bytes"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hatchlore/ingest/pdf"
)

var samplePage = pdf.Page{
	Number: 3, Width: 595.3, Height: 841.9, Pictures: 0.25, Err: "",
	Chars: []pdf.Char{
		{Rune: '°', Left: 1, Top: 2, Right: 3, Bottom: 4, Origin: 5, Size: 6, Weight: 700, Flags: pdf.Hyphen | pdf.MapError},
		{Rune: '\U0001D6FC', Left: -1.5, Right: float32(math.Inf(1)), Weight: -1},
	},
}

func TestPageRoundTrip(t *testing.T) {
	for _, p := range []pdf.Page{{}, {Number: 7, Err: "the page is damaged"}, samplePage} {
		got, err := unpackPage(packPage(nil, &p))
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(p, got); d != "" {
			t.Error(d)
		}
	}
}

func TestRequestRoundTrip(t *testing.T) {
	q := request{task: taskWitness, path: "/a folder/ü.pdf", from: 2, dpi: 300, pages: []int{1, 99}}
	got, err := unpackRequest(q.pack())
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(q, got, cmp.AllowUnexported(request{})); d != "" {
		t.Error(d)
	}
}

func TestFrameRoundTrip(t *testing.T) {
	var b bytes.Buffer
	w := bufio.NewWriter(&b)
	for _, f := range []frame{{framePage, []byte("abc")}, {frameDone, []byte{}}} {
		if err := writeFrame(w, f.kind, f.body); err != nil {
			t.Fatal(err)
		}
	}
	for _, want := range []frame{{framePage, []byte("abc")}, {frameDone, []byte{}}} {
		got, err := readFrame(&b, nil)
		if err != nil || got.kind != want.kind || !bytes.Equal(got.body, want.body) {
			t.Errorf("got %v, %v, want %v", got, err, want)
		}
	}
	if _, err := readFrame(bytes.NewReader([]byte{0xFF, 0xFF, 0xFF, 0xFF, 'p'}), nil); err == nil {
		t.Error("a frame of 4 GB was accepted")
	}
}

// FuzzUnpackPage: what unpacks packs to the same bytes' meaning, and nothing
// panics.
func FuzzUnpackPage(f *testing.F) {
	f.Add(packPage(nil, &samplePage))
	f.Add(packPage(nil, &pdf.Page{}))
	f.Add([]byte{1, 2, 3})
	f.Fuzz(func(t *testing.T, body []byte) {
		p, err := unpackPage(body)
		if err != nil {
			return
		}
		again, err := unpackPage(packPage(nil, &p))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(packPage(nil, &p), packPage(nil, &again)) {
			t.Errorf("%+v packs differently the second time", p)
		}
	})
}
