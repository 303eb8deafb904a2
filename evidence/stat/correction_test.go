package stat_test

import (
	"math"
	"testing"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/stattest"
)

// R's p.adjust.
func TestAdjust(t *testing.T) {
	p := []float64{.001, .008, .039, .041, .042, .06, .074, .205, .212, .216}
	stattest.NearAll(t, "Holm", stat.Holm.Adjust(p), []float64{.01, .072, .312, .312, .312, .312, .312, .615, .615, .615}, 1e-8)
	stattest.NearAll(t, "Benjamini-Hochberg", stat.BenjaminiHochberg.Adjust(p), []float64{.01, .04, .084, .084, .084, .1, .10571429, .216, .216, .216}, 1e-7)
	got := stat.Holm.Adjust([]float64{0.04, math.NaN(), 0.01})
	stattest.NearAll(t, "with a gap", []float64{got[0], got[2]}, []float64{0.04, 0.02}, 1e-12)
}
