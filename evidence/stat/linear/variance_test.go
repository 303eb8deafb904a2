package linear

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/stattest"
)

func column(rows [][]string, k int) []string {
	var out []string
	for _, r := range rows {
		out = append(out, r[k])
	}
	return out
}

// Yates 1935; Venables and Ripley print 3175, 893.2, 601.3, 37.686, 2.46e-12 and
// 0.303. Analysed without its whole plots, variety looks significant.
func TestSplitPlot(t *testing.T) {
	rows := stattest.ReadTable(t, "oats.csv")
	b, v, n := column(rows, 0), column(rows, 1), column(rows, 2)
	y, err := Numbers(column(rows, 3))
	if err != nil {
		t.Fatal(err)
	}
	lines, err := SequentialSums(y, []Source{{"block", Indicators(b)}, {"variety", Indicators(v)}, {"plot", Indicators(b, v)},
		{"nitrogen", Indicators(n)}, {"both", Indicators(v, n)}})
	if err != nil {
		t.Fatal(err)
	}
	want := []SumLine{{"block", 5, 0, 3175.055556}, {"variety", 2, 0, 893.180556}, {"plot", 10, 0, 601.330556},
		{"nitrogen", 3, 0, 6673.5}, {"both", 6, 0, 53.625}, {"residual", 45, 0, 177.083333}}
	for i, w := range want {
		if lines[i].Name != w.Name || lines[i].DF != w.DF {
			t.Errorf("line %+v, want %+v", lines[i], w)
		}
		stattest.Near(t, w.Name, lines[i].Square, w.Square, 1e-5)
	}
	tests := []struct {
		got  stat.TermTest
		f, p float64
	}{{FTest(lines[1], lines[2]), 1.48534, 0.27239}, {FTest(lines[3], lines[5]), 37.68565, 2.4577e-12}, {FTest(lines[4], lines[5]), 0.30282, 0.9322}}
	for _, tt := range tests {
		stattest.Near(t, "F", tt.got.Statistic, tt.f, 1e-5)
		stattest.Near(t, "p", tt.got.P, tt.p, math.Min(1e-5, 1e-4*tt.p)+5e-5*tt.p)
	}
	wrong, err := SequentialSums(y, []Source{{"block", Indicators(b)}, {"variety", Indicators(v)}, {"nitrogen", Indicators(n)}, {"both", Indicators(v, n)}})
	if err != nil {
		t.Fatal(err)
	}
	f := FTest(wrong[1], wrong[4])
	stattest.Near(t, "variety against dishes", f.Statistic, 3.51343, 1e-5)
	stattest.Near(t, "p of variety against dishes", f.P, 0.036646, 1e-5)
	if wrong[4].DF != 55 {
		t.Errorf("%d degrees of freedom", wrong[4].DF)
	}
}

// Finney 1947, Probit Analysis: sprays against bees in a Latin square of order 8
// (R's OrchardSprays); sums of squares from R's aov.
func TestLatinSquare(t *testing.T) {
	taken := []float64{57, 95, 8, 69, 92, 90, 15, 2, 84, 6, 127, 36, 51, 2, 69, 71, 87, 72, 5, 39, 22, 16, 72, 4, 130, 4, 114, 9, 20, 24, 10, 51,
		43, 28, 60, 5, 17, 7, 81, 71, 12, 29, 44, 77, 4, 27, 47, 76, 8, 72, 13, 57, 4, 81, 20, 61, 80, 114, 39, 14, 86, 55, 3, 19}
	const sprays = "DEBHGFCACBHDEAFGFHAEDCGBHAECFGBDEDGACBHFACFGBDEHBGCFAHDEGFDBHEAC"
	var row, column, spray []string
	for i := range taken {
		row, column, spray = append(row, strconv.Itoa(i%8)), append(column, strconv.Itoa(i/8)), append(spray, sprays[i:i+1])
	}
	lines, err := SequentialSums(taken, []Source{{"row", Indicators(row)}, {"column", Indicators(column)}, {"spray", Indicators(spray)}})
	if err != nil {
		t.Fatal(err)
	}
	for i, w := range []SumLine{{"row", 7, 4767.48, 0}, {"column", 7, 2807.23, 0}, {"spray", 7, 56159.98, 0}, {"residual", 42, 15994.91, 0}} {
		if lines[i].Name != w.Name || lines[i].DF != w.DF {
			t.Errorf("line %+v, want %+v", lines[i], w)
		}
		stattest.Near(t, w.Name, lines[i].Sum, w.Sum, 0.01)
	}
	stattest.Near(t, "F of sprays", FTest(lines[2], lines[3]).Statistic, 21.06670, 1e-5)
}

// Degrees of freedom of R's aov(y ~ T*W + Error(wp/W)) for a temperatures with r
// chamber runs each, b waters and d dishes.
func TestSplitPlotDegrees(t *testing.T) {
	for _, s := range []struct{ a, r, b, d int }{{2, 3, 4, 2}, {3, 2, 2, 1}, {2, 1, 3, 2}} {
		var temp, run, water []string
		var y []float64
		r := rand.New(rand.NewPCG(1, 9))
		for i := range s.a * s.r * s.b * s.d {
			temp = append(temp, strconv.Itoa(i/(s.r*s.b*s.d)))
			run = append(run, strconv.Itoa(i/(s.b*s.d)))
			water = append(water, strconv.Itoa(i/s.d%s.b))
			y = append(y, r.Float64())
		}
		lines, err := SequentialSums(y, []Source{{"T", Indicators(temp)}, {"run", Indicators(run)}, {"W", Indicators(water)}, {"TW", Indicators(temp, water)}, {"run W", Indicators(run, water)}})
		if err != nil {
			t.Fatal(err)
		}
		want := []int{s.a - 1, s.a * (s.r - 1), s.b - 1, (s.a - 1) * (s.b - 1), s.a * (s.r - 1) * (s.b - 1), s.a * s.b * s.r * (s.d - 1)}
		for i, w := range want {
			if lines[i].DF != w {
				t.Errorf("%+v: %s has %d degrees of freedom, want %d", s, lines[i].Name, lines[i].DF, w)
			}
		}
	}
}
