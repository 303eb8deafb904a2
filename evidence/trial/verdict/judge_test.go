package verdict_test

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/stat"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/design"
	"hatchlore/evidence/trial/trialtest"
	"hatchlore/evidence/trial/verdict"
)

func clutches(n, eggs int) (out []trial.Lot) {
	for k := range n {
		out = append(out, trial.Lot{Clutch: strconv.Itoa(k), Eggs: eggs})
	}
	return out
}

// What differs between clutches is no part of a difference: to let more eggs of
// one clutch hatch changes neither the difference nor its interval, whether each
// clutch holds every treatment or some, and whether dishes were lost.
func TestClutchesAreTakenOut(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 2))
	for _, eggs := range []int{12, 24, 40} {
		req := design.Request{Lots: clutches(8, eggs), KeepBack: new(0), Start: trialtest.Start, Seed: 2,
			Factors: []trial.Factor{trialtest.Factor(t, "drying=0,14"), trialtest.Factor(t, "light=dark,12:12")}}
		p := trialtest.Plan(t, req)
		var counted []int
		for k := range p.Dishes {
			if k%7 != 3 { // some are lost
				counted = append(counted, k)
			}
		}
		var plain, shifted []stat.Count
		for _, k := range counted {
			d := p.Dishes[k]
			n := stat.Count{Hatched: r.IntN(d.Eggs / 2), Eggs: d.Eggs}
			plain = append(plain, n)
			if d.Clutch == "0" || d.Clutch == "5" {
				n.Hatched += d.Eggs / 2
			}
			shifted = append(shifted, n)
		}
		j := verdict.New(p, counted)
		for i, f := range p.Factors {
			a, b := j.Hear(plain, false).Contrast(i, f.Levels[:1], f.Levels[1:]), j.Hear(shifted, false).Contrast(i, f.Levels[:1], f.Levels[1:])
			if !a.Tested || math.Abs(a.Difference-b.Difference) > 1e-9 || math.Abs(a.Interval.Low-b.Interval.Low) > 1e-9 {
				t.Errorf("clutches of %d (incomplete %v), %s: %+v, with two clutches raised %+v", eggs, p.Design.IncompleteBlocks, f.ID, a, b)
			}
		}
	}
}

// A temperature whose chamber stood alone at it has no test, however often it was
// run there; two that were swapped have.
func TestChambersAreTheUnits(t *testing.T) {
	at := func(low, high float64) trial.Chamber { return trial.Chamber{Low: low, High: high} }
	for _, tt := range []struct {
		chambers []trial.Chamber
		runs, df int
	}{
		{[]trial.Chamber{at(5, 5), at(12, 12)}, 1, 0},
		{[]trial.Chamber{at(5, 5), at(12, 12)}, 3, 0},
		{[]trial.Chamber{at(4, 15), at(4, 15)}, 2, 2},
		{[]trial.Chamber{at(4, 15), at(4, 15)}, 4, 2}, // each of two chambers at both, twice
		{[]trial.Chamber{at(4, 15), at(4, 15), at(4, 15), at(4, 15)}, 4, 6},
	} {
		p := trialtest.Plan(t, design.Request{Eggs: 900, Start: trialtest.Start, Runs: tt.runs, Chambers: tt.chambers, Factors: []trial.Factor{trialtest.Factor(t, "incubation-temperature=5,12")}})
		counts := make([]stat.Count, len(p.Dishes))
		for k, d := range p.Dishes {
			counts[k] = stat.Count{Hatched: (k * 3) % d.Eggs, Eggs: d.Eggs}
		}
		c := verdict.Planned(p).Hear(counts, false)
		f := p.Factors[0]
		d := c.Contrast(0, f.Levels[:1], f.Levels[1:])
		if d.DF != tt.df || d.Tested != (tt.df > 0) || math.IsNaN(d.Difference) {
			t.Errorf("%d chambers, %d runs: %+v, want %d degrees of freedom", len(tt.chambers), tt.runs, d, tt.df)
		}
		if test, ok := c.TestUnits(0); ok != (tt.df > 0) || ok && (test.DF2 != tt.df || math.Abs(test.Statistic-d.T()*d.T()) > 1e-9) {
			t.Errorf("%d chambers, %d runs: F %+v, t %v", len(tt.chambers), tt.runs, test, d.T())
		}
	}
}

// What is undecided is told with how many eggs would do.
func TestEnough(t *testing.T) {
	n := func(v float64) *float64 { return &v }
	p := trialtest.Plan(t, design.Request{Taxon: "Nova alba", Eggs: 100, Start: trialtest.Start, Questions: []trial.Question{
		{ID: "q", Kind: trial.KindApart, Factor: evidence.ColdLength, Levels: []trial.Level{{Value: n(0), Side: 1}, {Value: n(60), Side: 2}}}}})
	counts := make([]stat.Count, len(p.Dishes))
	for k, d := range p.Dishes {
		counts[k] = stat.Count{Hatched: []int{1, 4}[k/2%2], Eggs: d.Eggs} // of both in each treatment
	}
	for _, v := range verdict.Planned(p).Hear(counts, false).Verdicts() {
		if v.Verdict != verdict.Undecided || !strings.Contains(v.Why, "would take about") || !strings.Contains(v.Why, "eggs in dishes like these, not "+strconv.Itoa(p.EggsUsed)) {
			t.Errorf("%+v", v)
		}
	}
}
