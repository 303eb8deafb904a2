package query

import (
	"fmt"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/design"
)

func heldSetting(t *testing.T, s string) trial.Fixed {
	t.Helper()
	x, err := trial.ParseHeld(s)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func driedFactor(t *testing.T) trial.Factor {
	t.Helper()
	f, err := trial.ParseFactor("drying=0,28")
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// A finished trial in which all eggs lay cold tells a plan in which all will lie as
// cold how many hatch; of another plan it says how alike dishes are, no more.
func TestPastOfHeldTrials(t *testing.T) {
	e := engine(t)
	cold := heldSetting(t, "stratification-length=60")
	p, err := design.New(design.Request{Trial: "cold", Taxon: "Ficta umbrosa", Eggs: 220, Start: trial.Day{Year: 2026, Month: 1, Date: 10},
		Factors: []trial.Factor{driedFactor(t)}, Held: []trial.Fixed{cold}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := e.store.KeepTrial(t.Context(), p); err != nil {
		t.Fatal(err)
	}
	sheet, undried := "dish,hatched\n", 0
	for i, d := range p.Dishes {
		n := 1 + i%3
		if d.Levels[evidence.Drying] == trial.Num(0) {
			undried += n
		}
		sheet += fmt.Sprintf("%s,%d\n", d.Label, n)
	}
	c, err := counts.Read(strings.NewReader(sheet))
	if err != nil {
		t.Fatal(err)
	}
	if r, err := e.store.RecordCounts(t.Context(), "cold", c, "cold.csv", true); err != nil || r.Told == "" {
		t.Fatalf("%+v, %v", r, err)
	}
	for _, tt := range []struct {
		held []trial.Fixed
		base float64
	}{
		{[]trial.Fixed{cold}, float64(undried+1) / float64(p.EggsUsed/2+2)},
		{nil, 0},
		{[]trial.Fixed{heldSetting(t, "stratification-length=90")}, 0},
	} {
		req := design.Request{Taxon: "Ficta umbrosa", Factors: []trial.Factor{driedFactor(t)}, Held: tt.held}
		said, err := e.FromLibrary(t.Context(), &req, nil)
		if err != nil {
			t.Fatal(err)
		}
		if req.BaseFraction != tt.base || req.Rho == nil || *req.Rho <= 0 || *req.Rho >= 0.1 {
			t.Errorf("holding %v: base %v, want %v; likeness %v", tt.held, req.BaseFraction, tt.base, req.Rho)
		}
		if words := strings.Join(said, "; "); strings.Contains(words, fmt.Sprintf("with no more than all dishes get: %d of %d in own trial cold", undried, p.EggsUsed/2)) != (tt.base > 0) {
			t.Errorf("holding %v: said %q", tt.held, words)
		}
	}
}
