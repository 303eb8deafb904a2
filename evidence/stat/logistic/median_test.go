package logistic

import (
	"math"
	"testing"

	"hatchlore/evidence/stat/stattest"
)

// brglm2's AS_median on 0/20 against 13/20.
func TestMedianBiasReduction(t *testing.T) {
	m := model(t, cells([]string{"g"}, stattest.Counts(0, 20, 13, 20), []string{"0", "1"}), "g")
	f := fitted(t, FitMedian, m)
	stattest.NearAll(t, "estimates", f.Estimate, []float64{-4.79579055, 5.31903390}, 1e-5)
	// A single fraction above the middle: the estimate that is too high as often
	// as too low stands between the one without any correction and Firth's.
	one := model(t, Table{Counts: stattest.Counts(14, 20)})
	raw, firth, median := fitted(t, FitBinomial, one).Estimate[0], fitted(t, FitFirth, one).Estimate[0], fitted(t, FitMedian, one).Estimate[0]
	if !(firth < median && median < raw) || math.IsNaN(median) {
		t.Errorf("raw %v, median %v, Firth %v", raw, median, firth)
	}
}
