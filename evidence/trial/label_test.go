package trial

import (
	"math/rand/v2"
	"testing"
)

// No label is one that a spreadsheet turns into another, and one sign read wrongly
// makes none valid.
func TestLabels(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{2, 48, 500} {
		for range 40 {
			labels, err := BlindLabels(n, r.IntN)
			if err != nil {
				t.Fatal(err)
			}
			for _, l := range labels {
				if !ValidLabel(l) || looksOther(l) {
					t.Errorf("label %q", l)
				}
				for i := range l {
					for _, c := range labelLetters {
						if misread := l[:i] + string(c) + l[i+1:]; misread != l && ValidLabel(misread) {
							t.Fatalf("%q misread as %q is valid", l, misread)
						}
					}
				}
			}
		}
	}
	for _, l := range []string{"374", "3E4", "9E47", "3MAY", "MAR7", "JAN3"} {
		if !looksOther(l) {
			t.Errorf("%q passes for a label", l)
		}
	}
	for _, l := range []string{"3EA", "EE4", "MAY", "XE3", "4A4"} {
		if looksOther(l) {
			t.Errorf("%q is no label", l)
		}
	}
}
