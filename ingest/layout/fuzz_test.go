package layout

import (
	"strings"
	"testing"
	"unicode"

	"hatchlore/ingest/ingesttest"
	"hatchlore/ingest/letter"
	"hatchlore/ingest/pdf"
)

// FuzzAssemble: whatever the characters and wherever they stand, spans hold, and the
// text has no digit that the file has not.
func FuzzAssemble(f *testing.F) {
	f.Add("The eggs hatched at 18 \x01C and 28\x0189 °C in 16mm nets", []byte{1, 2, 3, 250})
	f.Add("Table 1. x\ty\n1 2\n3 4 ¨a ¼ = -", []byte{0, 90, 180, 7, 9})
	f.Fuzz(func(t *testing.T, text string, places []byte) {
		s := ingesttest.NewSetter()
		x, y, size := float32(40), float32(60), float32(10)
		for i, r := range text {
			if len(places) > 0 {
				switch p := places[i%len(places)]; {
				case p > 240:
					x, y = 40, y+float32(p-235)
				case p > 200:
					x += float32(p - 200)
				case p > 190:
					size = float32(p - 185)
				case p > 180:
					y -= float32(p - 180)
				}
			}
			x = s.At(x, y, size, string(r))
		}
		read := assemble(t, s).Pages[0].Text
		have := digits(spelled(s.Page.Chars))
		for d, n := range digits(read) {
			if n > have[d] {
				t.Errorf("%q has %c %d times, the file %d times", read, d, n, have[d])
			}
		}
	})
}

// digits counts the digits of a text, raised and lowered ones and those of fractions
// too.
func digits(text string) map[rune]int {
	out := map[rune]int{}
	for _, r := range text {
		for _, d := range letter.Bare(r) {
			if unicode.IsDigit(d) {
				out[d]++
			}
		}
	}
	return out
}

func spelled(chars []pdf.Char) string {
	var b strings.Builder
	for _, c := range chars {
		b.WriteRune(c.Rune)
	}
	return b.String()
}
