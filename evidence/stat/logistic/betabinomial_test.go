package logistic

import (
	"testing"

	"hatchlore/evidence/stat/spread"
	"hatchlore/evidence/stat/stattest"
)

// R's glmmTMB and VGAM, an own fit in R and scipy agree on the estimates; errors
// are glmmTMB's, from the observed information as here.
func TestBetaBinomialFit(t *testing.T) {
	m := model(t, crowder(), "x1", "x2", "x1:x2")
	f := fitted(t, FitBetaBinomial, m)
	stattest.NearAll(t, "estimates", f.Estimate, []float64{-0.541951, 0.097391, 1.320068, -0.797925}, 1e-4)
	stattest.Near(t, "rho", f.Rho, 0.0123609, 1e-5)
	stattest.Near(t, "log-likelihood", f.LogLik, -53.766763, 1e-5)
	stattest.NearAll(t, "errors", f.SE, []float64{0.163784, 0.273669, 0.233977, 0.377955}, 1e-3)
	lr, err := f.TestBetaBinomial(m, m.Groups[2].Columns)
	if err != nil {
		t.Fatal(err)
	}
	stattest.Near(t, "interaction", lr.Statistic, 4.130136, 1e-4)
	a := fitted(t, FitBetaBinomial, model(t, crowder(), "x1", "x2"))
	stattest.Near(t, "additive log-likelihood", a.LogLik, -55.831831, 1e-4)
	stattest.Near(t, "additive rho", a.Rho, 0.0193698, 1e-5)
	one := fitted(t, FitBetaBinomial, model(t, crowder()))
	stattest.Near(t, "all plates, fraction", one.Fitted[0], 0.493572, 1e-5)
	stattest.Near(t, "all plates, rho", one.Rho, 0.0815724, 1e-5)
	stattest.Near(t, "all plates, log-likelihood", one.LogLik, -64.516283, 1e-5)
	for i, want := range []float64{0.01732, 0.00979, 0.01627, 0.00222} {
		plates := stattest.PlateGroups()[i]
		g := fitted(t, FitBetaBinomial, model(t, Table{Counts: plates}))
		// R's optim stops early on the flat likelihood of the last group: no printed
		// value may be likelier than the one found.
		stattest.Near(t, "group rho", g.Rho, want, 4e-4)
		var printed float64
		for _, d := range plates {
			printed += spread.BetaBinomial{N: d.Eggs, P: g.Fitted[0], Rho: want}.LogProb(d.Hatched)
		}
		if printed > g.LogLik+1e-9 {
			t.Errorf("rho %v is likelier (%v) than %v (%v)", want, printed, g.Rho, g.LogLik)
		}
	}
	even := fitted(t, FitBetaBinomial, model(t, Table{Counts: stattest.Counts(5, 10, 5, 10, 5, 10)}))
	stattest.Near(t, "dishes that agree", even.Rho, 0, 0)
}

// Williams 1982, by the same steps in R.
func TestWilliams(t *testing.T) {
	f := fitted(t, FitWilliams, model(t, crowder(), "x1", "x2", "x1:x2"))
	stattest.Near(t, "phi", f.Rho, 0.0249380, 1e-4)
	stattest.NearAll(t, "estimates", f.Estimate, []float64{-0.535411, 0.070085, 1.329794, -0.819560}, 1e-4)
	stattest.NearAll(t, "errors", f.SE, []float64{0.193745, 0.311464, 0.278171, 0.435217}, 1e-4)
}
