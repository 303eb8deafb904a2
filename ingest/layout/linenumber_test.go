package layout

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hatchlore/ingest/ingesttest"
)

// TestLineNumbers: the numbers of a manuscript's lines are no text, in either margin,
// on each line or on every fifth.
func TestLineNumbers(t *testing.T) {
	for _, c := range []struct {
		every, first int
		x            float32
	}{{1, 1, 30}, {5, 5, 30}, {5, 105, 400}, {10, 10, 30}, {1, 31, 400}} {
		s := ingesttest.NewSetter()
		for i := range 40 {
			y := 60 + 16*float32(i)
			if n := c.first + i - (c.every - 1); i%c.every == c.every-1 && c.x < 100 {
				s.At(c.x, y, 8, fmt.Sprint(n))
			}
			s.At(60, y, 10, "The eggs of the shrimp were left in the dry mud of the pool")
			if n := c.first + i - (c.every - 1); i%c.every == c.every-1 && c.x > 100 {
				s.At(c.x, y, 8, fmt.Sprint(n))
			}
		}
		for _, b := range ingesttest.Blocks(assemble(t, s).Pages[0]) {
			if strings.ContainsAny(b, "0123456789") {
				t.Errorf("every %d from %d at %v: numbers in %q", c.every, c.first, c.x, b)
			}
		}
	}
}

// TestLevelsAreNoLineNumbers: levels at equal steps, and the numbers of rows, belong to
// their table, however few columns it has.
func TestLevelsAreNoLineNumbers(t *testing.T) {
	for _, c := range []struct {
		name             string
		from, step, rows int
	}{
		{"temperatures", 5, 5, 5},
		{"days", 10, 10, 6},
		{"pools by number", 1, 1, 12},
	} {
		s := ingesttest.NewSetter()
		s.Lines(50, 40, 10, "The eggs of the shrimp were taken from the dry mud of the pool and left in the jar.")
		s.Lines(50, 60, 10, "Table 1. Levels at which the eggs of the species were held.")
		s.At(50, 90, 10, "Level")
		s.At(150, 90, 10, "Hatched (%)")
		want := []string{"!Level|Hatched (%)"}
		for i := range c.rows {
			level, hatched := fmt.Sprint(c.from+i*c.step), fmt.Sprint(61+i)
			s.At(50, 104+14*float32(i), 10, level)
			s.At(150, 104+14*float32(i), 10, hatched)
			want = append(want, level+"|"+hatched)
		}
		if diff := cmp.Diff(want, ingesttest.Rows(assemble(t, s).Pages[0])); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}
