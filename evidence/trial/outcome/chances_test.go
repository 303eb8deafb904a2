package outcome

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/stat/spread"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/design"
	"hatchlore/evidence/trial/trialtest"
	"hatchlore/evidence/trial/verdict"
)

// truth is a world in which one side of a question is right, and perhaps others
// beside it, or none.
type truth struct {
	right []int // sides by number; the first is the one whose chance is meant
	hatch func(trial.Setting) float64
}

// steps hatches eggs with one chance at some levels and another elsewhere.
func steps(there, elsewhere float64, levels ...trial.Setting) func(trial.Setting) float64 {
	return func(l trial.Setting) float64 {
		if slices.Contains(levels, l) {
			return there
		}
		return elsewhere
	}
}

type chanceCase struct {
	name   string
	req    design.Request
	q      trial.Question
	truths []truth
}

func num(v float64) *float64 { return &v }

// chanceCases are questions of every kind, laid out with dishes, chamber runs and
// clutches, and the worlds in which each of their sides is right.
func chanceCases(t *testing.T) []chanceCase {
	lengths := trialtest.Factor(t, "stratification-length=0,30,60") // by hand: none is dropped
	none, two := trial.Num(0), trial.Num(60)
	need := func(first, second string) trial.Question {
		return trial.Question{ID: "q", Kind: trial.KindNeed, Factor: evidence.Drying, Levels: []trial.Level{{Category: first, Side: 1}, {Category: second, Side: 2}}}
	}
	apart := trial.Question{ID: "q", Kind: trial.KindApart, Factor: evidence.ColdLength, Levels: []trial.Level{{Value: num(0), Side: 1}, {Value: num(60), Side: 2}}}
	three := trial.Question{ID: "q", Kind: trial.KindApart, Factor: evidence.ColdLength, Levels: []trial.Level{{Value: num(0), Side: 1}, {Value: num(30), Side: 2}, {Value: num(60), Side: 3}}}
	warm := trial.Question{ID: "q", Kind: trial.KindApart, Factor: evidence.WarmTemperature, Levels: []trial.Level{{Value: num(5), Side: 1}, {Value: num(12), Side: 2}}}
	light := trial.Question{ID: "q", Kind: trial.KindOpposed, Factor: evidence.Light, Levels: []trial.Level{
		{Category: "light-required", Side: 1, Bearing: evidence.Favours}, {Category: "dark", Side: 2, Bearing: evidence.Prevents}}}
	both := []trial.Chamber{{Low: 4, High: 15}, {Low: 4, High: 15}, {Low: 4, High: 15}, {Low: 4, High: 15}}
	var clutches []trial.Lot
	for k := range 12 {
		clutches = append(clutches, trial.Lot{Clutch: strconv.Itoa(k), Eggs: 20})
	}
	level := []truth{{[]int{1}, steps(0.5, 0.3, none)}, {[]int{2}, steps(0.5, 0.3, two)}}
	return []chanceCase{
		{"required, not required", design.Request{Eggs: 160}, need("required", "not-required"), []truth{{[]int{1}, steps(0, 0.3, none)}, {[]int{2}, steps(0.3, 0.3)}}},
		{"helpful, not required", design.Request{Eggs: 400}, need("helpful", "not-required"), []truth{{[]int{1, 2}, steps(0.3, 0.5, none)}, {[]int{2}, steps(0.3, 0.3)}}},
		{"harmful, not required", design.Request{Eggs: 400}, need("harmful", "not-required"), []truth{{[]int{1, 2}, steps(0.5, 0.3, none)}, {[]int{2}, steps(0.3, 0.3)}}},
		{"two lengths", design.Request{Eggs: 240}, apart, level},
		{"two lengths, many eggs", design.Request{Eggs: 480}, apart, level},
		{"three lengths", design.Request{Eggs: 480}, three, []truth{{[]int{1}, steps(0.5, 0.3, none)}, {[]int{2}, steps(0.5, 0.3, trial.Num(30))}, {[]int{3}, steps(0.5, 0.3, two)}}},
		{"light or dark", design.Request{Eggs: 120}, light, []truth{{[]int{1}, steps(0.3, 0.3)}, {[]int{2, 1}, steps(0, 0.3, trial.Cat("dark"))}}},
		{"temperatures, chambers swapped", design.Request{Eggs: 900, Runs: 4, Chambers: both}, warm, []truth{{[]int{1}, steps(0.5, 0.3, trial.Num(5))}, {[]int{2}, steps(0.5, 0.3, trial.Num(12))}}},
		{"two lengths, small clutches", design.Request{Lots: clutches}, apart, level},
		{"three lengths, small clutches", design.Request{Lots: clutches, EggsPerDish: 7, Factors: []trial.Factor{lengths}}, three, []truth{{[]int{1}, steps(0.5, 0.3, none)}, {[]int{2}, steps(0.5, 0.3, trial.Num(30))}, {[]int{3}, steps(0.5, 0.3, two)}}},
	}
}

// moreAlike is a likeness of eggs within dishes four times that supposed.
const moreAlike = 0.2

// trialsAsked is how many trials are simulated of each world: more with
// HATCHLORE_TEST_TRIALS.
func trialsAsked(t *testing.T) int {
	n, err := strconv.Atoi(os.Getenv("HATCHLORE_TEST_TRIALS"))
	if err != nil {
		return 200
	}
	return n
}

// What a plan promises is what the verdicts keep: a side that is right is called
// supported as often as the plan says, whatever clutches and dishes do, and a side
// that is wrong hardly ever.
func TestChancesHold(t *testing.T) {
	trials := trialsAsked(t)
	for _, tt := range chanceCases(t) {
		tt.req.Taxon, tt.req.Start, tt.req.Seed, tt.req.Questions, tt.req.KeepBack = "Nova alba", trialtest.Start, 3, []trial.Question{tt.q}, new(0)
		p := trialtest.Plan(t, tt.req)
		kept, wrong := 0.0, 0.0
		for w, world := range tt.truths {
			k, x := verdictRates(p, world, p.Odds.Rho, trials, uint64(w))
			kept += k / float64(len(tt.truths))
			wrong = max(wrong, x)
		}
		promised := p.Settles[0].Chance
		slack := 3 * math.Sqrt(0.25/float64(trials*len(tt.truths))+0.25/4000)
		none := 0.0
		if tt.q.Kind == trial.KindApart {
			_, none = verdictRates(p, truth{hatch: steps(0.4, 0.4)}, p.Odds.Rho, trials, 7)
		}
		_, unlike := verdictRates(p, tt.truths[len(tt.truths)-1], moreAlike, trials, 8)
		t.Logf("%-32s %2d dishes of %2d eggs: promised %.3f, kept %.3f; a wrong side supported %.4f, where none is right %.4f, where dishes differ more %.4f",
			tt.name, len(p.Dishes), p.Dishes[0].Eggs, promised, kept, wrong, none, unlike)
		if unlike > 0.025+3*math.Sqrt(0.025/float64(trials)) {
			t.Errorf("%s: where dishes differ more than supposed a wrong side is called supported in %.4f of trials", tt.name, unlike)
		}
		if none > 0.05+3*math.Sqrt(0.05/float64(trials)) {
			t.Errorf("%s: where all levels hatch alike a side is called supported in %.4f of trials", tt.name, none)
		}
		if math.Abs(kept-promised) > slack {
			t.Errorf("%s: the plan promises %.3f, the verdicts keep %.3f", tt.name, promised, kept)
		}
		if wrong > 0.025+3*math.Sqrt(0.025/float64(trials)) {
			t.Errorf("%s: a wrong side is called supported in %.4f of trials", tt.name, wrong)
		}
	}
}

// verdictRates is how often the side meant is called supported in a world, and
// how often any side that is wrong.
func verdictRates(p *trial.Plan, world truth, rho float64, trials int, seed uint64) (kept, wrong float64) {
	r := rand.New(rand.NewPCG(seed, 99))
	for range trials {
		dishes := hatchDishes(p, world.hatch, rho, r)
		miss := false
		for _, v := range caseOf(p, dishes, tooAlike(dishes)).Verdicts() {
			if v.Verdict != verdict.Supported {
				continue
			}
			if len(world.right) > 0 && v.Number == world.right[0] {
				kept++
			}
			miss = miss || !slices.Contains(world.right, v.Number)
		}
		if miss {
			wrong++
		}
	}
	return kept / float64(trials), wrong / float64(trials)
}

// hatchDishes draws the counts of a plan whose first factor alone matters. Clutches
// differ by up to 40 per cent points, chambers of a temperature as much as dishes.
func hatchDishes(p *trial.Plan, hatch func(trial.Setting) float64, rho float64, r *rand.Rand) []counts.Dish {
	f := p.Factors[0]
	unit, ofUnit, ofClutch := p.Units(f.ID, p.AllRuns()), map[int]float64{}, map[string]float64{}
	var out []counts.Dish
	for k, d := range p.Dishes {
		chance := hatch(d.Levels[f.ID])
		if d.Clutch != "" {
			if _, ok := ofClutch[d.Clutch]; !ok {
				ofClutch[d.Clutch] = 0.4 * (r.Float64() - 0.5)
			}
			chance += ofClutch[d.Clutch]
		}
		if f.WholePlot {
			u := unit[d.Run-1]
			if _, ok := ofUnit[u]; !ok {
				ofUnit[u] = spread.DrawBeta(chance, rho, r)
			}
			chance = ofUnit[u]
		}
		own := spread.DrawBeta(chance, rho, r)
		c := counts.Dish{Name: d.Label, Control: d.Control, Eggs: d.Eggs, Planned: k}
		for _, g := range p.Factors {
			c.Levels = append(c.Levels, d.Levels[g.ID])
		}
		for range d.Eggs {
			if r.Float64() < own {
				c.Hatched++
			}
		}
		out = append(out, c)
	}
	return out
}
