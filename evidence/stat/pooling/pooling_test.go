package pooling

import (
	"math"
	"strconv"
	"testing"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/stattest"
)

// The checks of pooling are numbered M1 to M15. M13 and M14 are made once more in
// package species, through the words of claims.

// The 13 vaccine trials of Colditz and others 1994 (R package metadat 1.2-0).
// Computed with metafor 3.8-1; where the row says so statsmodels 0.13.5 and a
// hand calculation agree, and of M1 a course page prints Q 152.2330.
func vaccine(t *testing.T) (f []Finding, latitude []float64) {
	t.Helper()
	for _, r := range stattest.ReadTable(t, "dat-bcg.csv") {
		var n [5]int
		for i := range n {
			v, err := strconv.Atoi(r[3+i])
			if err != nil {
				t.Fatal(err)
			}
			n[i] = v
		}
		f = append(f, LogRiskRatio(stat.Count{Hatched: n[0], Eggs: n[0] + n[1]}, stat.Count{Hatched: n[2], Eggs: n[2] + n[3]}))
		latitude = append(latitude, float64(n[4]))
	}
	return f, latitude
}

func TestPooling(t *testing.T) {
	f, latitude := vaccine(t)
	stattest.Near(t, "first estimate", f[0].Estimate, -0.88931133, 1e-8)
	stattest.Near(t, "first variance", f[0].Variance, 0.32558477, 1e-8)
	fixed, err := Fixed(f)
	if err != nil {
		t.Fatal(err)
	}
	stattest.Near(t, "M1 Q", fixed.Q, 152.2330081, 1e-6)
	stattest.Near(t, "M1 p", fixed.P, 1.996765e-26, 1e-31)
	stattest.Near(t, "M2 fixed", fixed.Estimate, -0.43028516, 1e-7)
	stattest.Near(t, "M2 error", fixed.SE, 0.04049875, 1e-7)
	dl := pool(t, DerSimonianLaird, f)
	stattest.Near(t, "M3 tau2", dl.Tau2, 0.30876026, 1e-7)
	stattest.Near(t, "M3 I2", dl.I2, 92.117347, 1e-5)
	stattest.Near(t, "M3 H2", dl.H2, 12.686084, 1e-5)
	stattest.Near(t, "M4 estimate", dl.Estimate, -0.71411722, 1e-7)
	stattest.Near(t, "M4 error", dl.SE, 0.17874209, 1e-7)
	stattest.NearInterval(t, "M4 interval", dl.Interval(0.95), -1.06444528, -0.36378916, 1e-7)
	stattest.NearAll(t, "M5 ratio and prediction", []float64{math.Exp(dl.Estimate), math.Exp(dl.Interval(0.95).Low), math.Exp(dl.Interval(0.95).High),
		math.Exp(dl.Prediction(0.95).Low), math.Exp(dl.Prediction(0.95).High)}, []float64{0.4896, 0.3449, 0.6950, 0.1560, 1.5371}, 1e-4)
	se, i := dl.KnappHartung(f, 0.95)
	stattest.Near(t, "M6 Knapp-Hartung", se, 0.18069663, 1e-7)
	stattest.NearInterval(t, "M6 Knapp-Hartung", i, -1.10782135, -0.32041309, 1e-7)
	reml := pool(t, REML, f)
	stattest.NearAll(t, "M7 REML", []float64{reml.Estimate, reml.SE, reml.Tau2}, []float64{-0.7145, 0.1798, 0.3132}, 1e-4)
	stattest.Near(t, "M7 REML I2", reml.I2, 92.22, 0.01)
	// metafor's root finder stops at 1.2e-4; the definition is that the weighted
	// squares equal their degrees of freedom.
	pm := pool(t, PauleMandel, f)
	stattest.Near(t, "M8 Paule-Mandel", pm.Tau2, 0.31809371, 1.2e-4)
	_, _, _, q := weightedMean(f, pm.Tau2)
	stattest.Near(t, "Paule-Mandel squares", q, 12, 1e-9)
	stattest.Near(t, "M8 Hedges", pool(t, Hedges, f).Tau2, 0.32856386, 1e-6)
	stattest.Near(t, "M8 ML", pool(t, ML, f).Tau2, 0.28002814, 1e-6)
	stattest.Near(t, "M1 degrees of freedom", float64(fixed.DF), 12, 0)
	slope, err := Along(f, latitude)
	if err != nil {
		t.Fatal(err)
	}
	stattest.NearAll(t, "M9 latitude", []float64{slope.Slope, slope.SE, slope.Tau2, slope.QE}, []float64{-0.0292, 0.0067, 0.0633, 30.7331}, 1e-4)
	stattest.Near(t, "M9 degrees of freedom", float64(slope.DF), 11, 0)
	tau, err := Tau2Interval(f, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	stattest.NearInterval(t, "M10 tau2", tau, 0.1197, 1.1115, 1e-4)
}

func pool(t *testing.T, b Between, f []Finding) Pooled {
	t.Helper()
	p, err := b.Pool(f)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Computed in R with metafor.
func TestPoolingOfTemperatures(t *testing.T) {
	apart := []Finding{{4, 0.25}, {6, 0.36}, {5, 0.16}, {10, 1}}
	dl := pool(t, DerSimonianLaird, apart)
	stattest.NearAll(t, "M11 apart", []float64{dl.Q, dl.I2, dl.Tau2, dl.Estimate, dl.SE}, []float64{30.76039604, 90.247200, 2.92794486, 6.05443096, 0.91392401}, 1e-6)
	fixed, _ := Fixed(apart)
	stattest.NearAll(t, "M11 apart, fixed", []float64{fixed.Estimate, fixed.SE}, []float64{5.26930693, 0.26699650}, 1e-6)
	alike := pool(t, DerSimonianLaird, []Finding{{10, 0.25}, {10.2, 0.36}, {9.9, 0.16}})
	stattest.NearAll(t, "M12 alike", []float64{alike.Q, alike.Tau2, alike.I2, alike.Estimate, alike.SE}, []float64{0.17324094, 0, 0, 9.99466951, 0.27705426}, 1e-7)
	for _, b := range []Between{REML, ML, PauleMandel, Hedges} {
		stattest.Near(t, "M12 "+string(b)+" of findings that agree", pool(t, b, []Finding{{10, 0.25}, {10.2, 0.36}, {9.9, 0.16}}).Tau2, 0, 1e-12)
	}
}

func TestPoolingOfFractions(t *testing.T) {
	var f []Finding
	for _, c := range stattest.Plates()[:5] {
		f = append(f, LogitFinding(c))
	}
	p := pool(t, DerSimonianLaird, f)
	stattest.NearAll(t, "M13 logit", []float64{p.Estimate, p.SE, p.Tau2, p.Q, stat.Expit(p.Estimate), stat.Expit(p.Interval(0.95).Low), stat.Expit(p.Interval(0.95).High)},
		[]float64{-0.53794002, 0.20103868, 0.11594104, 9.52928040, 0.36866692, 0.28252550, 0.46408410}, 1e-7)
	stattest.Near(t, "M13 I2", p.I2, 58.024113, 1e-6)
	none, all := LogitFinding(stat.Count{Hatched: 0, Eggs: 20}), LogitFinding(stat.Count{Hatched: 20, Eggs: 20})
	stattest.NearAll(t, "M14 ends", []float64{none.Estimate, all.Estimate, none.Variance, all.Variance}, []float64{-3.71357207, 3.71357207, 2.04878049, 2.04878049}, 1e-7)
	for _, tt := range []struct {
		x    int
		want float64
	}{{0, 0.10999399}, {10, 0.78539816}, {20, 1.46080234}} {
		a := ArcsineFinding(stat.Count{Hatched: tt.x, Eggs: 20})
		stattest.Near(t, "M15 arcsine", a.Estimate, tt.want, 1e-7)
		stattest.Near(t, "M15 arcsine variance", a.Variance, 0.01219512, 1e-7)
	}
}

func TestPoolingRefusals(t *testing.T) {
	for _, f := range [][]Finding{nil, {{1, 1}}, {{1, 0}, {2, 1}}, {{math.NaN(), 1}, {2, 1}}} {
		if _, err := Fixed(f); err == nil {
			t.Errorf("%v are pooled", f)
		}
	}
	if _, err := Between("x").Pool([]Finding{{1, 1}, {2, 1}}); err == nil {
		t.Error("an unknown method passes")
	}
}
