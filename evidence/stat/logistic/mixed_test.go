package logistic

import (
	"testing"

	"hatchlore/evidence/stat/stattest"
)

// R's lme4 and glmmTMB agree on Laplace's approximation; lme4 with 25 points.
func TestMixed(t *testing.T) {
	m := model(t, crowder(), "x1", "x2", "x1:x2")
	laplace, err := FitMixed(m, 1)
	if err != nil {
		t.Fatal(err)
	}
	stattest.NearAll(t, "Laplace", laplace.Estimate, []float64{-0.548492, 0.097426, 1.336808, -0.810029}, 5e-5)
	stattest.Near(t, "Laplace SD", laplace.SD, 0.234584, 5e-5)
	stattest.Near(t, "Laplace log-likelihood", laplace.LogLik, -53.769571, 5e-5)
	fine, err := FitMixed(m, 25)
	if err != nil {
		t.Fatal(err)
	}
	stattest.NearAll(t, "quadrature", fine.Estimate, []float64{-0.548432, 0.096989, 1.337039, -0.810457}, 1e-4)
	stattest.Near(t, "quadrature SD", fine.SD, 0.236242, 1e-4)
	stattest.NearAll(t, "quadrature errors", fine.SE, []float64{0.166593, 0.278042, 0.236937, 0.385171}, 1e-4)
}
