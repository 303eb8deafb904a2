package layout

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hatchlore/ingest/ingesttest"
)

// TestRowWithoutTable: a row of which no table was made stays out of the sentences
// about it.
func TestRowWithoutTable(t *testing.T) {
	s := ingesttest.NewSetter()
	s.Lines(50, 100, 10, "The eggs of the shrimp were taken from the dry mud of the pool, and left", "in the jars of the")
	s.At(50, 124, 10, "Eggs frozen")
	s.At(200, 124, 10, "7")
	s.At(280, 124, 10, "9.8")
	s.Lines(50, 136, 10, "cellar until the rain of the next spring came back to it and they hatched.")
	for _, b := range ingesttest.Kinds(assemble(t, s).Pages[0]) {
		if strings.Contains(b, "9.8") && strings.Contains(b, "cellar") || strings.Contains(b, "9.8") && strings.Contains(b, "jars") {
			t.Errorf("the row is part of the sentence %q", b)
		}
	}
}

// TestNarrowTables: cells that stand closer than cells usually do, told by the
// rows above and below.
func TestNarrowTables(t *testing.T) {
	type cell struct {
		x    float32
		text string
	}
	right := func(x float32, text string) cell { return cell{x - 5*float32(len([]rune(text))), text} }
	for _, c := range []struct {
		name string
		rows [][]cell
		want []string // rows, a bar between cells
	}{
		{"a short number before a wide word", [][]cell{
			{{50, "Source"}, right(200, "Days"), {222, "Event"}},
			{{50, "Haldon 1962"}, right(200, "30"), {222, "hatching"}},
			{{50, "Thorn 1974"}, right(200, "90-120"), {222, "hatching"}},
			{{50, "Tarval 1991"}, right(200, "84"), {213, "emergence"}},
			{{50, "Corbin 1979"}, right(200, "0"), {222, "hatching"}},
		}, []string{"Source|Days|Event", "Haldon 1962|30|hatching", "Thorn 1974|90-120|hatching", "Tarval 1991|84|emergence", "Corbin 1979|0|hatching"}},
		{"a column beside its neighbour in every row", [][]cell{
			{{50, "Region"}, right(200, "Median"), {212, "Range"}},
			{{50, "Orrin Top"}, right(200, "9.1"), {211, "0.4-23.6"}},
			{{50, "Marrow Fen"}, right(200, "5.7"), {211, "0.1-16.9"}},
			{{50, "Ostrel Pan"}, right(200, "18.8"), {211, "3.2-33.5"}},
		}, []string{"Region|Median|Range", "Orrin Top|9.1|0.4-23.6", "Marrow Fen|5.7|0.1-16.9", "Ostrel Pan|18.8|3.2-33.5"}},
		{"a wide space in one row alone", [][]cell{
			{{50, "Water"}, right(200, "Hatch")},
			{{50, "of tap"}, right(200, "31")},
			{{50, "of rain"}, {95, "kept"}, right(200, "46")},
			{{50, "of the pool"}, right(200, "38")},
		}, []string{"Water|Hatch", "of tap|31", "of rain kept|46", "of the pool|38"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := ingesttest.NewSetter()
			for i, row := range c.rows {
				for k, cell := range row {
					if k > 0 {
						s.At(cell.x, 100+12*float32(i), 10, " ")
					}
					s.At(cell.x, 100+12*float32(i), 10, cell.text)
				}
			}
			var got []string
			for line := range strings.SplitSeq(assemble(t, s).Pages[0].Text, "\n") {
				got = append(got, strings.ReplaceAll(line, "\t", "|"))
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}
