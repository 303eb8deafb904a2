package table

import (
	"errors"
	"os"
	"slices"
	"testing"
	"testing/fstest"

	"hatchlore/evidence/rule/lexicon"
	"hatchlore/ingest"
)

// reader knows the head words that come with the rules.
func reader(t testing.TB) *Reader {
	t.Helper()
	r, err := Load(os.DirFS(".."))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestSplitHeads(t *testing.T) {
	r := reader(t)
	for _, c := range []struct {
		line string
		want []string
	}{
		{"Temperature (°C) Emerged Hatched", []string{"Temperature (°C)", "Emerged", "Hatched"}},
		{"Months stored 45 °F 64–68 °F 86 °F", []string{"Months stored", "45 °F", "64–68 °F", "86 °F"}},
		{"Treatment Upper Marsh Lower Marsh", []string{"Treatment", "Upper Marsh", "Lower Marsh"}},
		{"Vessel Oxygen (mg/L) Split in 6 h (%)", []string{"Vessel", "Oxygen (mg/L)", "Split in 6 h (%)"}},
		{"Days of cold Never dried Dried 20 d", []string{"Days of cold", "Never dried", "Dried 20 d"}},
		{"Days", []string{"Days"}},
	} {
		var got []string
		for _, s := range splitHeads(c.line, span{0, len(c.line)}, len(c.want), r.smallWords("en")) {
			got = append(got, c.line[s.start:s.end])
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%q: got %q, want %q", c.line, got, c.want)
		}
	}
	if got := splitHeads("Days", span{0, 4}, 2, nil); got != nil {
		t.Errorf("one word was split into %v", got)
	}
}

func TestHeadErrors(t *testing.T) {
	for _, c := range []struct {
		text string
		line int
	}{
		{"language: en\nmood: glad\n", 2},
		{"language: en\n  hatch\nhatched hatch\n", 3},
		{"hatched: hatch*\n", 1},
		{"language: en\nhatched: *\n", 2},
	} {
		_, err := Load(fstest.MapFS{"heads/xx.head": {Data: []byte(c.text)}})
		var fault *lexicon.SyntaxError
		if !errors.As(err, &fault) || fault.Line != c.line {
			t.Errorf("%q: got %v, want a fault in line %d", c.text, err, c.line)
		}
	}
}

// Whatever a text looks like, the blocks that it is laid out in stay inside it
// and in order, and so do the cells.
func FuzzLaidOut(f *testing.F) {
	r := reader(f)
	f.Add("Table 1. Hatching of eggs (%).\nTreatment Emerged Hatched\nwet, 12 °C 70 31\ndry 60 0\nAnd so on.")
	f.Add("Days at 3 °C Dried\n0 0\n30 4\n60 –")
	f.Add("1 2\n1 2\n1 2\n1 2")
	f.Fuzz(func(t *testing.T, text string) {
		page := &ingest.Page{Number: 1, How: ingest.ByText, Text: text}
		at := 0
		for _, b := range r.LaidOut(page, "txt", "en") {
			if b.Start < at || b.End < b.Start || b.End > len(page.Text) {
				t.Fatalf("block %d to %d behind %d", b.Start, b.End, at)
			}
			at = b.End
			for _, row := range b.Rows {
				for _, c := range row.Cells {
					if c.Start < b.Start || c.End < c.Start || c.End > b.End {
						t.Fatalf("cell %d to %d outside %d to %d", c.Start, c.End, b.Start, b.End)
					}
				}
			}
		}
	})
}
