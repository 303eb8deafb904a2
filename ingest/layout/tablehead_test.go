package layout

import (
	"cmp"
	"slices"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"hatchlore/ingest/ingesttest"
)

// TestTables: what each cell of a table says, and under which heads it stands.
func TestTables(t *testing.T) {
	type cell struct {
		x    float32
		text string
	}
	// at sets text about a place; a character is 5 points wide, a space 3.
	at := func(x float32, text string) cell {
		return cell{x - 2.5*float32(len([]rune(text))) + float32(strings.Count(text, " ")), text}
	}
	for _, c := range []struct {
		name string
		rows [][]cell
		want []string // rows, ! before heads, a bar between cells
	}{
		{"heads of two lines", [][]cell{
			{{50, "Temp."}, at(200, "Hatched"), at(300, "Days to")},
			{{50, "(°C)"}, at(200, "(%)"), at(300, "hatch")},
			{{50, "5"}, at(200, "45"), at(300, "12")},
			{{50, "10"}, at(200, "60"), at(300, "7.5")},
			{{50, "15"}, at(200, "8"), at(300, "3")},
		}, []string{"!Temp. (°C)|Hatched (%)|Days to hatch", "5|45|12", "10|60|7.5", "15|8|3"}},
		{"a head over two columns", [][]cell{
			{at(250, "Hatched (%)")},
			{{50, "Cold (d)"}, at(200, "5 °C"), at(300, "12 °C")},
			{{50, "0"}, at(200, "0"), at(300, "4")},
			{{50, "30"}, at(200, "12"), at(300, "61")},
			{{50, "90"}, at(200, "15"), at(300, "58")},
		}, []string{"!|Hatched (%)|Hatched (%)", "!Cold (d)|5 °C|12 °C", "0|0|4", "30|12|61", "90|15|58"}},
		{"heads over two columns each", [][]cell{
			{at(200, "Hatched (%)"), at(400, "Days to hatch")},
			{{50, "Cold"}, at(150, "fen"), at(250, "pan"), at(350, "fen"), at(450, "pan")},
			{{50, "0"}, at(150, "0"), at(250, "4"), at(350, "-"), at(450, "9")},
			{{50, "30"}, at(150, "12"), at(250, "61"), at(350, "5"), at(450, "6")},
			{{50, "90"}, at(150, "15"), at(250, "58"), at(350, "4"), at(450, "5")},
		}, []string{"!|Hatched (%)|Hatched (%)|Days to hatch|Days to hatch", "!Cold|fen|pan|fen|pan", "0|0|4|-|9", "30|12|61|5|6", "90|15|58|4|5"}},
		{"a head over its own column alone", [][]cell{
			{at(250, "Days to")},
			{{50, "Cold"}, at(150, "fen"), at(250, "hatch"), at(350, "pan")},
			{{50, "0"}, at(150, "0"), at(250, "4"), at(350, "1")},
			{{50, "30"}, at(150, "12"), at(250, "61"), at(350, "5")},
			{{50, "90"}, at(150, "15"), at(250, "58"), at(350, "4")},
		}, []string{"!Cold|fen|Days to hatch|pan", "0|0|4|1", "30|12|61|5", "90|15|58|4"}},
		{"missing values, letters and spreads", [][]cell{
			{{50, "Temperature (°C)"}, at(250, "n"), at(350, "Hatched (% ± s.e.)")},
			{{50, "5"}, at(250, "50"), at(350, "45 ± 3.2a")},
			{{50, "10"}, at(250, "48"), at(350, "60 ± 2.1b")},
			{{50, "15"}, at(250, "50"), at(350, "–")},
			{{50, "20"}, at(350, "0")},
		}, []string{"!Temperature (°C)|n|Hatched (% ± s.e.)", "5|50|45 ± 3.2a", "10|48|60 ± 2.1b", "15|50|–", "20||0"}},
		{"rows of a level with its unit, a number and a dash", [][]cell{
			{{50, "Temperature"}, at(200, "Hatching (%)"), at(300, "First nauplius")},
			{{50, "6 °C"}, at(200, "0"), at(300, "–")},
			{{50, "11 °C"}, at(200, "0"), at(300, "–")},
			{{50, "17 °C"}, at(200, "25.0 ± 2.1"), at(300, "7")},
			{{50, "23 °C"}, at(200, "61.5 ± 3.9"), at(300, "3")},
		}, []string{"!Temperature|Hatching (%)|First nauplius", "6 °C|0|–", "11 °C|0|–", "17 °C|25.0 ± 2.1|7", "23 °C|61.5 ± 3.9|3"}},
		{"lines that name the rows below", [][]cell{
			{{50, "Pool"}, at(150, "Days cold"), at(300, "Hatched (%)")},
			{{50, "Fictocaris umbrosa"}},
			{{50, "Fen"}, at(150, "0"), at(300, "4")},
			{{50, "Fen"}, at(150, "30"), at(300, "61")},
			{{50, "Fictocaris pallida"}},
			{{50, "Pan"}, at(150, "0"), at(300, "58")},
			{{50, "Pan"}, at(150, "30"), at(300, "60")},
		}, []string{"!Pool|Days cold|Hatched (%)", "Fictocaris umbrosa||", "Fen|0|4", "Fen|30|61", "Fictocaris pallida||", "Pan|0|58", "Pan|30|60"}},
		{"a unit below the first head", [][]cell{
			{{50, "Temp."}, at(200, "Hatched (%)"), at(300, "Days")},
			{{50, "(°C)"}},
			{{50, "5"}, at(200, "45"), at(300, "12")},
			{{50, "10"}, at(200, "60"), at(300, "7.5")},
			{{50, "15"}, at(200, "8"), at(300, "3")},
		}, []string{"!Temp. (°C)|Hatched (%)|Days", "5|45|12", "10|60|7.5", "15|8|3"}},
		{"rows that begin with words", [][]cell{
			{at(250, "n = 50"), at(350, "n = 48")},
			{{50, "Eggs kept dry"}, at(250, "12"), at(350, "0")},
			{{50, "Eggs kept wet"}, at(250, "45"), at(350, "31")},
			{{50, "Eggs kept frozen"}, at(250, "-"), at(350, "2")},
		}, []string{"!|n = 50|n = 48", "Eggs kept dry|12|0", "Eggs kept wet|45|31", "Eggs kept frozen|-|2"}},
	} {
		for _, cellwise := range []bool{false, true} {
			name := c.name + ", drawn by rows"
			if cellwise {
				name = c.name + ", heads drawn by columns"
			}
			t.Run(name, func(t *testing.T) {
				s := ingesttest.NewSetter()
				s.At(50, 60, 10, "Table 1. What hatched.")
				heads := len(c.rows) - bodyRows(c.want)
				set := func(i, k int) {
					x, y := c.rows[i][k].x, 90+14*float32(i)
					if k > 0 {
						s.At(x, y, 10, " ")
					}
					for _, word := range strings.SplitAfter(c.rows[i][k].text, " ") {
						if x = s.At(x, y, 10, word); strings.HasSuffix(word, " ") {
							x -= 2
						}
					}
				}
				if cellwise { // from the left, as typesetters draw the heads of some tables
					var order [][2]int
					for i, row := range c.rows[:heads] {
						for k := range row {
							order = append(order, [2]int{i, k})
						}
					}
					slices.SortStableFunc(order, func(a, b [2]int) int { return cmp.Compare(c.rows[a[0]][a[1]].x, c.rows[b[0]][b[1]].x) })
					for _, o := range order {
						set(o[0], o[1])
					}
				}
				for i, row := range c.rows {
					for k := range row {
						if i >= heads || !cellwise {
							set(i, k)
						}
					}
				}
				if diff := gocmp.Diff(c.want, ingesttest.Rows(assemble(t, s).Pages[0])); diff != "" {
					t.Error(diff)
				}
			})
		}
	}
}

// TestHeadsBelowCaption: heads that stand as near to one another as words, and to the
// caption as its next line.
func TestHeadsBelowCaption(t *testing.T) {
	s := ingesttest.NewSetter()
	s.Lines(50, 60, 10, "Table 1. Nauplii for each 100 eggs of the dust that was", "stored in the loft, at three temperatures of the water.")
	for i, row := range [][]string{{"Months stored", "45 °F", "64–68 °F", "86 °F"}, {"1", "0", "9", "0"}, {"3", "0", "31", "1"}, {"6", "0", "57", "3"}} {
		x := float32(50)
		for k, cell := range row {
			s.At(x, 89+float32(12*i), 10, cell)
			x += []float32{77, 37, 52, 0}[k]
			if k < 3 {
				s.At(x-12, 89+float32(12*i), 10, " ")
			}
		}
	}
	p := assemble(t, s).Pages[0]
	want := []string{"!Months stored|45 °F|64–68 °F|86 °F", "1|0|9|0", "3|0|31|1", "6|0|57|3"}
	if diff := gocmp.Diff(want, ingesttest.Rows(p)); diff != "" {
		t.Error(diff)
	}
	if got := ingesttest.Kinds(p)[0]; got != "caption:Table 1. Nauplii for each 100 eggs of the dust that was stored in the loft, at three temperatures of the water." {
		t.Error(got)
	}
}

func bodyRows(want []string) (n int) {
	for _, row := range want {
		if row[0] != '!' {
			n++
		}
	}
	return n
}
