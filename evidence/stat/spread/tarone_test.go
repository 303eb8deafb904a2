package spread

import (
	"testing"

	"hatchlore/evidence/stat/stattest"
)

func TestTarone(t *testing.T) {
	for i, want := range []float64{1.459489, 1.142551, 0.721916, 0.061025} {
		stattest.Near(t, "group", Tarone(stattest.PlateGroups()[i]), want, 1e-5)
	}
	stattest.Near(t, "all plates", Tarone(stattest.Plates()), 14.486527, 1e-5)
}
