package ocr

import (
	"testing"
)

// Two lines of one title keep one size though the second, in small letters alone and
// a paragraph of its own, is measured an eighth smaller; names below it do not.
func TestTypeSizes(t *testing.T) {
	line := func(size float64, letters, paragraph int) Line {
		return Line{Size: size, Paragraph: paragraph, Words: []Word{{Letters: make([]Letter, letters)}}}
	}
	got := typeSizes([]Line{line(33, 60, 1), line(62, 40, 2), line(54.4, 21, 3), line(43, 18, 4), line(37, 600, 5), line(39, 500, 5)})
	if got[1] != got[2] {
		t.Errorf("the lines of the title have the sizes %g and %g", got[1], got[2])
	}
	if got[3] == got[2] || got[3] == got[4] || got[4] != got[5] {
		t.Errorf("sizes %v: the names are neither the title nor the text, which is one", got)
	}
}
