package quantity

import (
	"math"
	"testing"
)

func TestWordFiles(t *testing.T) {
	lx, err := loadWords(wordFiles)
	if err != nil {
		t.Fatal(err)
	}
	for first, entries := range lx.first[roleUnit] {
		for _, e := range entries {
			if e.unit == "" {
				t.Errorf("%q has no unit", first)
			}
		}
	}
}

func TestWordFileErrors(t *testing.T) {
	lx := &lexicon{}
	for r := range lx.first {
		lx.first[r], lx.last[r] = map[string][]entry{}, map[string][]entry{}
	}
	for _, line := range []string{"no colon", "unheard of: word", "number x: word", "unit d*x: word", "and: ", "implied temperature degC a b: word"} {
		if err := lx.addLine(line, false, 1); err == nil {
			t.Errorf("%q was taken", line)
		}
	}
}

func TestConvert(t *testing.T) {
	for _, c := range []struct {
		v        float64
		from, to Unit
		want     float64
	}{
		{60, DegF, DegC, 15.5555555556}, // the keepers' 60 °F
		// Fahrenheit and Kelvin by definition: checks W31 and W33 of the reference values.
		{32, DegF, DegC, 0}, {41, DegF, DegC, 5}, {50, DegF, DegC, 10}, {68, DegF, DegC, 20}, {77, DegF, DegC, 25},
		{-40, DegF, DegC, -40}, {39.2, DegF, DegC, 4}, {12.5, DegC, DegF, 54.5}, {4, DegC, Kelvin, 277.15}, {12.5, DegC, Kelvin, 285.65},
		// Conductivity, SI identities: check W36.
		{1, "dS/m", "mS/cm", 1}, {1, "dS/m", MicroS, 1000}, {1, "dS/m", "S/m", 0.1},
		{1, "g/kg", "ppt", 1}, // W34
		{55.4, DegF, DegC, 13},
		{273.15, Kelvin, DegC, 0},
		{4, DegC, DegF, 39.2},
		{36, "h", Day, 1.5},
		{2, "wk", Day, 14},
		{13, "yr", Day, 4745},
		{27, "mo", Day, 810},
		{1.2, "mS/cm", MicroS, 1200},
		{2, "dS/m", "mS/cm", 2},
		{60, MgL, GramL, 0.06},
		{5, "permille", Percent, 0.5},
		{3, Percent, GramL, 30},
		{35, PSU, "ppt", 35},
		{8, "mg/L", "ppm", 8},
		{1, "in", Milli, 25.4},
	} {
		got, err := Convert(c.v, c.from, c.to)
		if err != nil || math.Abs(got-c.want) > 1e-9*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%v %s = %v %s, want %v (%v)", c.v, c.from, got, c.to, c.want, err)
		}
	}
	for _, c := range [][2]Unit{{DegC, Day}, {MicroS, GramL}, {PctSat, Percent}, {"W/m2", DegC}, {DegC, "furlong"}} {
		if _, err := Convert(1, c[0], c[1]); err == nil {
			t.Errorf("%s became %s", c[0], c[1])
		}
	}
	if got, err := ConvertStep(9, DegF, DegC); err != nil || got != 5 {
		t.Errorf("W32: a step of 9 degF = %v degC (%v)", got, err)
	}
}

func TestFormat(t *testing.T) {
	p := func(v float64) *float64 { return &v }
	for _, c := range []struct {
		low, high *float64
		unit      Unit
		want      string
	}{
		{p(4), p(4), DegC, "4 °C"},
		{p(-12), p(-12), DegC, "−12 °C"},
		{p(-20), p(-10), DegC, "−20 to −10 °C"},
		{p(10), p(15), DegC, "10–15 °C"},
		{p(30), nil, Day, "≥ 30 d"},
		{nil, p(80), Percent, "≤ 80 %"},
		{p(7.2), p(7.2), One, "7.2"},
		{p(2340), p(2340), MicroS, "2340 µS/cm"},
		{p(0.4166666), p(0.4166666), Day, "0.4167 d"},
		{p(3), p(3), "W/m2", "3 W/m2"},
		{nil, nil, Day, ""},
	} {
		if got := FormatRange(c.low, c.high, c.unit); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}
