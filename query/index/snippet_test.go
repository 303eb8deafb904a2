package index

import (
	"testing"
)

func TestEnded(t *testing.T) {
	for _, tt := range []struct {
		before, behind string
		want           bool
	}{
		{"", "Eggs hatched", true},
		{"Eggs hatched. ", "They did", true},
		{"Eggs hatched.", " They did", true},
		{"Eggs hatched ", "at 8 °C", false},
		{"Eggs hatched", " at 8 °C", false},
		{"at 8.", "5 °C", false},
		{"eggs of L. ", "tessulatus", false},
		{"Alder et al. ", "found", false},
		{"(Alder, P. ", "Q. 1962)", false},
		{"hatched at 12. ", "Others", true},
		{"On eggs\n\n", "Methods", true},
		{"On eggs\n", "and mud", false},
		{"at 8 °C", "\n ", true},
		{"in 4 °C", " water", false},
	} {
		if got := ended(tt.before+tt.behind, len(tt.before)); got != tt.want {
			t.Errorf("%q | %q: %v", tt.before, tt.behind, got)
		}
	}
}
