package water

import (
	"math"
	"strings"
	"testing"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, want %.9g within %g", what, got, want, tolerance)
	}
}

// must fails the test where a value that should be there is refused.
func must(t *testing.T) func(float64, error) float64 {
	t.Helper()
	return func(v float64, err error) float64 {
		t.Helper()
		if err != nil {
			t.Error(err)
		}
		return v
	}
}

// The form 1+0.0191(t-25) as a logger's manual prints it and Standard Methods
// 2510 B has it; values computed from the form.
func TestAt25(t *testing.T) {
	for _, c := range []struct{ k, at, usual, two float64 }{
		{100, 10, 140.154170, 142.857143}, {1000, 15, 1236.093943, 1250}, {500, 20, 552.791598, 555.555556}, {250, 5, 404.530744, 416.666667},
	} {
		near(t, "at 25 °C", must(t)(At25(c.k, c.at, Coefficient)), c.usual, 1e-5)
		near(t, "at 2 % per °C", must(t)(At25(c.k, c.at, 0.02)), c.two, 1e-5)
		near(t, "and back", must(t)(Reading(c.usual, c.at, Coefficient)), c.k, 1e-5)
	}
	// A bottle standard of 1413 µS/cm reads 1278 at 20 °C (a meter manual's table).
	near(t, "bottle standard", must(t)(At25(1278, 20, Coefficient)), 1412.935, 1e-3)
	for _, wrong := range [][3]float64{{-1, 20, Coefficient}, {1, 60, Coefficient}, {1, math.NaN(), Coefficient}, {1, 20, 1}, {math.NaN(), 20, Coefficient}} {
		if _, err := At25(wrong[0], wrong[1], wrong[2]); err == nil {
			t.Errorf("%v is corrected", wrong)
		}
	}
}

// 0.01 mol/kg potassium chloride, CRC Handbook after NIST (Wu, Koch and Pratt
// 1991), corrected by 1.91 % per °C.
func TestCorrectionError(t *testing.T) {
	for at, percent := range map[float64]float64{20: -0.06, 15: 0.19, 10: 0.91, 5: 2.38, 0: 5.04, 25: 0} {
		share, ok := CorrectionError(at)
		if !ok {
			t.Errorf("nothing is known at %v °C", at)
		}
		near(t, "per cent of error", 100*share, percent, 0.01)
	}
	for _, at := range []float64{-1, 31, math.NaN()} {
		if _, ok := CorrectionError(at); ok {
			t.Errorf("an error is known at %v °C", at)
		}
	}
}

// A meter manual's table of bottles at 15, 20 and 25 °C; the CRC Handbook's
// potassium chloride of 0.1 mol/kg after Wu, Koch and Pratt 1991; by molarity
// Standard Methods 2510, from memory: 146.9, 1412 and 12880 to 12900 µS/cm.
func TestStandards(t *testing.T) {
	for _, c := range []struct {
		name      string
		at, k, to float64
	}{
		{"84", 15, 67.61, 0}, {"84", 20, 75.80, 0}, {"84", 25, 84.00, 0}, {"500", 15, 402.9, 0}, {"500", 20, 451.5, 0}, {"500", 25, 500, 0},
		{"1413", 15, 1147, 0}, {"1413", 20, 1278, 0}, {"1413", 25, 1413, 0}, {"12880", 15, 10480, 0}, {"12880", 20, 11670, 0}, {"12880", 25, 12880, 0},
		{"12825", 25, 12824.6, 0.0004 * 12824.6}, {"1408", 25, 1408.23, 0.0003 * 1408.23}, {"1408", 5, 890.96, 0.0003 * 890.96},
		{"147", 25, 146.9, 0.005 * 146.9}, {"147", 25, 146.5, 0.005 * 146.5}, {"1413", 25, 1412, 0.005 * 1412}, {"12880", 25, 12900, 0.005 * 12900},
		{"1413", 17.5, 1212.5, 1e-9}, // half way
	} {
		s, err := StandardNamed(c.name)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name, must(t)(s.At(c.at)), c.k, c.to)
	}
	for name, at := range map[string]float64{"84": 5, "1413": 26, "147": 20, "1408": -1} {
		s, _ := StandardNamed(name)
		if k, err := s.At(at); err == nil {
			t.Errorf("%s at %v °C is %v", name, at, k)
		}
	}
	if _, err := StandardNamed("1000"); err == nil || !strings.Contains(err.Error(), "84, 147, 500") {
		t.Errorf("1000: %v", err)
	}
	for _, s := range Standards() {
		for i := 1; i < len(s.points); i++ {
			if s.points[i].t <= s.points[i-1].t || s.points[i].k <= s.points[i-1].k {
				t.Errorf("%s does not rise: %v", s.Name, s.points)
			}
		}
	}
}

func TestCheckMeter(t *testing.T) {
	s, _ := StandardNamed("1413")
	c, err := CheckMeter(s, 1214.1, 20, false)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "should", c.Should, 1278, 0)
	near(t, "error", c.Error, -0.05, 1e-9)
	near(t, "factor", 1214.1*c.Factor, 1278, 1e-9)
	if c, err = CheckMeter(s, 1413, 18, true); err != nil || c.Error != 0 || c.Factor != 1 {
		t.Errorf("a meter that corrects: %+v, %v", c, err)
	}
	for _, reads := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := CheckMeter(s, reads, 20, false); err == nil {
			t.Errorf("a reading of %v passes", reads)
		}
	}
}

// Dissolved solids: a water-centre handbook's 0.55 to 0.75; never one number.
func TestSolids(t *testing.T) {
	if got := Solids(1000); got != (Range{550, 750}) {
		t.Errorf("1000 µS/cm: %v", got)
	}
	back := FromSolids(550)
	near(t, "high end of 550 mg/L", back.High, 1000, 1e-9)
	if back.Low >= back.High || AllSolids.Low > UsualSolids.Low || AllSolids.High < UsualSolids.High {
		t.Errorf("550 mg/L: %v", back)
	}
	// Meters that show solids multiply by 0.5 (as for sodium chloride), 0.64, 0.65 or 0.7:
	// 1000 µS/cm is 500 to 700 mg/L on them, the first of which no natural water has.
	for f, natural := range map[float64]bool{0.5: false, 0.64: true, 0.65: true, 0.7: true} {
		if got := Solids(1000); (got.Low <= 1000*f && 1000*f <= got.High) != natural {
			t.Errorf("%v mg/L: within %v is not %v", 1000*f, got, natural)
		}
	}
}

// Mass balance of dilute waters, f = (target-c2)/(c1-c2).
func TestMixTwo(t *testing.T) {
	for _, c := range []struct{ c1, c2, target, part float64 }{
		{600, 5, 50, 0.07563025}, {600, 5, 100, 0.15966387}, {450, 10, 30, 0.04545455}, {0, 1000, 250, 0.75}, {600, 5, 600, 1}, {600, 5, 5, 0},
	} {
		b, err := Mix([]Source{{"tap", c.c1, nil}, {"rain", c.c2, nil}}, c.target)
		if err != nil {
			t.Error(err)
			continue
		}
		near(t, "first part", b.Parts[0], c.part, 1e-8)
		near(t, "sum", b.Parts[0]+b.Parts[1], 1, 1e-12)
		near(t, "conductivity", b.Conductivity, c.target, 1e-9)
	}
	for _, target := range []float64{4, 601, math.NaN()} {
		if _, err := Mix([]Source{{"tap", 600, nil}, {"rain", 5, nil}}, target); err == nil || !strings.Contains(err.Error(), "reach 5 to 600") {
			t.Errorf("%v: %v", target, err)
		}
	}
	if _, err := Mix([]Source{{"tap", 600, nil}}, 600); err == nil {
		t.Error("one water is a blend")
	}
}

// Any target within reach of any waters is met, with parts that are none below
// 0 and sum to 1.
func FuzzMix(f *testing.F) {
	f.Add(600.0, 5.0, 80.0, 0.3)
	f.Add(10.0, 10.0, 10.0, 0.5)
	f.Add(0.0, 1000.0, 999.0, 1.0)
	f.Fuzz(func(t *testing.T, a, b, c, at float64) {
		for _, v := range []float64{a, b, c} {
			if !(v >= 0 && v < 1e5) {
				t.Skip("no water")
			}
		}
		if !(at >= 0 && at <= 1) {
			t.Skip("no target")
		}
		low, high := min(a, b, c), max(a, b, c)
		target := min(high, low+at*(high-low))
		got, err := Mix([]Source{{"a", a, nil}, {"b", b, nil}, {"c", c, &Range{1, 2}}}, target)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, p := range got.Parts {
			if p < 0 {
				t.Fatalf("parts %v", got.Parts)
			}
			sum += p
		}
		near(t, "sum", sum, 1, 1e-9)
		near(t, "conductivity", got.Conductivity, target, 1e-6*(1+high))
	})
}

func TestMixHardness(t *testing.T) {
	b, err := Mix([]Source{{"tap", 600, &Range{200, 300}}, {"rain", 0, &Range{0, 10}}}, 300)
	if err != nil || b.Hardness == nil || *b.Hardness != (Range{100, 155}) {
		t.Errorf("%+v, %v", b.Hardness, err)
	}
	if b.Solids != (Range{165, 225}) {
		t.Errorf("solids %v", b.Solids)
	}
	b, err = Mix([]Source{{"tap", 600, &Range{200, 300}}, {"rain", 0, nil}}, 300)
	if err != nil || b.Hardness != nil {
		t.Errorf("a hardness of the unknown: %+v, %v", b.Hardness, err)
	}
}

// Molar masses 56.0774 (CaO) and 100.0869 (CaCO3).
func TestHardness(t *testing.T) {
	near(t, "1 dH", must(t)(Hardness(1, "°dH", "mg/L")), 17.848, 1e-3)
	near(t, "1 gpg", must(t)(Hardness(1, "gpg", "mg/L")), 17.118, 1e-3)
	for _, u := range HardnessUnits() {
		near(t, u+" there and back", must(t)(Hardness(must(t)(Hardness(7, u, "fH")), "fH", u)), 7, 1e-12)
	}
	if _, err := Hardness(1, "dX", "mg/L"); err == nil {
		t.Error("dX is a unit")
	}
	if _, err := Hardness(-1, "dH", "mg/L"); err == nil {
		t.Error("water below no hardness")
	}
}

// Benson and Krause 1980, 1984 by its equation; EN 25814's printed table; gsw
// and the equation at salinity 5; 0.9 atm by Standard Methods 4500-O.
func TestOxygenSaturation(t *testing.T) {
	for _, c := range []struct{ at, fresh, table, digits, thin, brackish float64 }{
		{0, 14.62083, 14.6, 0.05, 13.1512, 14.1183}, {5, 12.77100, 12.8, 0.05, 11.4839, 12.3515}, {10, 11.28795, 11.3, 0.05, 10.1462, 10.9327},
		{15, 10.08386, 10.1, 0.05, 9.0589, 9.7792}, {20, 9.09243, 9.09, 0.005, 8.1623, 8.8281}, {25, 8.26346, 8.26, 0.005, 7.4109, 8.0318},
	} {
		fresh := must(t)(OxygenSaturation(c.at, 0, 1))
		near(t, "fresh", fresh, c.fresh, 1e-4)
		near(t, "EN 25814", fresh, c.table, c.digits)
		near(t, "0.9 atm", must(t)(OxygenSaturation(c.at, 0, 0.9)), c.thin, 1e-4)
		near(t, "salinity 5", must(t)(OxygenSaturation(c.at, 5, 1)), c.brackish, 1e-4)
	}
	near(t, "8 mg/L at 15 °C, per cent", 800/must(t)(OxygenSaturation(15, 0, 1)), 79.335, 1e-3)
	for _, wrong := range [][3]float64{{-1, 0, 1}, {20, -1, 1}, {20, 0, 0}, {math.NaN(), 0, 1}, {20, 0, math.NaN()}} {
		if _, err := OxygenSaturation(wrong[0], wrong[1], wrong[2]); err == nil {
			t.Errorf("%v has a saturation", wrong)
		}
	}
}

// The International Standard Atmosphere: 89,874.6 Pa at 1000 m.
func TestPressureAt(t *testing.T) {
	near(t, "sea level", must(t)(PressureAt(0)), 1, 1e-12)
	near(t, "1000 m", atmosphere*must(t)(PressureAt(1000)), 89874.6, 20)
	if _, err := PressureAt(9000); err == nil {
		t.Error("a pool on a summit of 9000 m")
	}
}

// Plummer and Busenberg 1982; Weiss 1974; within Sander 2015's 3.3e-4 to 3.4e-4
// mol/(m³ Pa), and d ln H/d(1/T) of 2300 to 2400 K, printed to two digits, at 25 °C.
func TestCO2Solubility(t *testing.T) {
	for at, log := range map[float64]float64{0: -1.1084, 5: -1.1921, 10: -1.2694, 15: -1.3408, 20: -1.4069, 25: -1.4679} {
		near(t, "log10 of Henry's constant", math.Log10(must(t)(CO2Solubility(at))), log, 1e-4)
	}
	for at, k0 := range map[float64]float64{0: 0.077580, 10: 0.053661, 20: 0.039099, 25: 0.033967} {
		got := must(t)(CO2SolubilitySea(at, 0))
		near(t, "Weiss", got, k0, 1e-5)
		near(t, "of the two", must(t)(CO2Solubility(at))/got, 1, 0.005)
	}
	if h := must(t)(CO2Solubility(25)) * 1000 / atmosphere; h < 3.3e-4 || h > 3.4e-4 {
		t.Errorf("at 25 °C %g mol/(m³ Pa)", h)
	}
	slope := math.Log(must(t)(CO2Solubility(24.5))/must(t)(CO2Solubility(25.5))) / (1/(24.5+kelvin) - 1/(25.5+kelvin))
	if slope < 2250 || slope >= 2450 {
		t.Errorf("slope %v K", slope)
	}
	near(t, "of the units", 3.4e-4*atmosphere/1000, 0.03445, 1e-5)
}

func TestCO2Dose(t *testing.T) {
	d, err := CO2Dose(100, 0.5, 10)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "grams", d.Least, 0.05, 1e-12)
	near(t, "share of the most", d.Pressure, 100/d.Most, 1e-12)
	if d.Likely.Low <= d.Least || d.Likely.High <= d.Likely.Low || d.GasLitre < 0.025 || d.GasLitre > 0.028 {
		t.Errorf("%+v", d) // a mole is 23.2 L at 10 °C
	}
	for _, wrong := range [][3]float64{{5000, 1, 10}, {0, 1, 10}, {10, 0, 10}, {10, 1, 60}, {math.NaN(), 1, 10}} {
		if _, err := CO2Dose(wrong[0], wrong[1], wrong[2]); err == nil {
			t.Errorf("%v has a dose", wrong)
		}
	}
}

// UNESCO 1983, Fofonoff and Millard, page 9: check values of the scale, with the
// effect of pressure that a pool does not have.
func TestScale(t *testing.T) {
	for _, c := range []struct{ r, t68, p, s, tolerance float64 }{
		{1, 15, 0, 35, 1e-6}, {1.2, 20, 2000, 37.245628, 1e-6}, {0.65, 5, 1500, 27.995347, 1e-6}, {1.888091, 40, 10000, 40, 1e-5},
	} {
		rp := 1 + c.p*(2.070e-5-6.370e-10*c.p+3.989e-15*c.p*c.p)/(1+3.426e-2*c.t68+4.464e-4*c.t68*c.t68+(4.215e-1-3.107e-3*c.t68)*c.r)
		near(t, "salinity", scale(math.Sqrt(c.r/rp/poly(pssC, c.t68)), c.t68), c.s, c.tolerance)
	}
}

// gsw's SP_from_C (TEOS-10), at the surface and 25 °C.
func TestPracticalSalinity(t *testing.T) {
	near(t, "42.914 mS/cm at 15 °C", must(t)(PracticalSalinity(42.914, 15/to1968)), 35, 1e-3)
	for k, s := range map[float64]float64{0.1: 0.046209, 0.5: 0.240378, 1: 0.492451, 1.413: 0.706266, 5: 2.679605, 10: 5.626644} {
		near(t, "salinity", must(t)(PracticalSalinity(k, 25)), s, 1e-5)
	}
	for _, wrong := range [][2]float64{{-1, 20}, {90, 20}, {1, 50}, {math.NaN(), 20}} {
		if s, err := PracticalSalinity(wrong[0], wrong[1]); err == nil {
			t.Errorf("%v has the salinity %v", wrong, s)
		}
	}
}

// gsw (TEOS-10).
func TestDensity(t *testing.T) {
	for at, rho := range map[float64]float64{5: 999.9666, 15: 999.1026, 20: 998.2071, 25: 997.0476} {
		near(t, "density", must(t)(Density(at)), rho, 1e-3)
	}
}
