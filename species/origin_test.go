package species

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestOrigins(t *testing.T) {
	for _, tt := range []struct {
		text string
		want []string
	}{
		{"Eggs from the Orrin Plateau were dried. Mud of Orrin Top was cut. Mud of Orrin Top was wet.", []string{"Orrin Top"}},
		{"Wet peat was collected in Marrow Fen, not far from the town. Alder (1960) had eggs from South Heath.", []string{"Marrow Fen"}},
		{"Die Eier stammten aus dem Tessiner Moor. Der Schlupf begann im April.", []string{"Tessiner Moor"}},
		{"Les œufs provenaient de Corbigny. Température de 8 °C.", []string{"Corbigny"}},
		{"Eggs of Vernocephala umbrosa from Table 2 hatched in May. The University of Carrowmoor paid.", []string{}},
		{"Récoltés dans les mares du bassin d’Ostrel.", []string{"Ostrel"}},
		{"The eggs hatched.", []string{}},
		{"Eggs came from Marrow Fen. It would be of interest whether those of Sedge Moor, said to be larger, hatch.", []string{"Marrow Fen"}},
		{"Sediment came from Marrow Fen and from a pool of the upper Kelm Terrace. All of this refers to South Heath.", []string{"Marrow Fen", "Kelm Terrace"}},
	} {
		if d := cmp.Diff(tt.want, Origins(tt.text)); d != "" {
			t.Errorf("%s\n%s", tt.text, d)
		}
	}
	if !sameRegion("Orrin Top", "Orrin Plateau") || sameRegion("Marrow Fen", "Sedge Fen") {
		t.Error("regions are told apart by their kind alone")
	}
}

func FuzzOrigins(f *testing.F) {
	for _, s := range []string{"", "Eggs from the Orrin Plateau.", "œufs de É. X", "(Alder 1960)", ". . A.\n\nB"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if got := Origins(text); len(got) > mostOrigins {
			t.Errorf("%d places", len(got))
		}
	})
}
