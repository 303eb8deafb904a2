package trial

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/stat"
)

// crowderSheet is Table 3 of Crowder 1978, Applied Statistics 27:34-37, as a
// sheet of counts.
const crowderSheet = `dish,eggs,hatched,seed,extract
1,39,10,0,0
2,62,23,0,0
3,81,23,0,0
4,51,26,0,0
5,39,17,0,0
6,6,5,0,1
7,74,53,0,1
8,72,55,0,1
9,51,32,0,1
10,79,46,0,1
11,13,10,0,1
12,16,8,1,0
13,30,10,1,0
14,28,8,1,0
15,45,23,1,0
16,4,0,1,0
17,12,3,1,1
18,41,22,1,1
19,30,15,1,1
20,51,32,1,1
21,7,3,1,1
`

func readCounts(t *testing.T, s string) *Counts {
	t.Helper()
	c, err := ReadCounts(strings.NewReader(s))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func near(t *testing.T, what string, got Figure, want, tol float64) {
	t.Helper()
	if !got.Known() || math.Abs(float64(got)-want) > tol {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

// Estimates, errors, t and p from R's quasi-binomial glm; beta-binomial from
// glmmTMB and VGAM; Wilson limits of 10/39 are not pooled ones.
func TestWeighCrowder(t *testing.T) {
	r, err := readCounts(t, crowderSheet).Weigh(WeighOptions{Terms: []string{"seed", "extract", "seed:extract"}})
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		term            string
		est, se, t0, p0 float64
	}{
		{"intercept", -0.55817174, 0.17195470, -3.246039, 0.0047523},
		{"seed=1", 0.14592695, 0.30450761, 0.479223, 0.6378868},
		{"extract=1", 1.31818187, 0.24215282, 5.443595, 4.3793e-5},
		{"seed=1:extract=1", -0.77810370, 0.41812493, -1.860936, 0.0801390},
	}
	for i, w := range want {
		got := r.Model.Terms[i]
		if got.Term != w.term || *got.DF != 17 {
			t.Errorf("term %+v, want %s on 17", got, w.term)
		}
		near(t, w.term, got.Estimate, w.est, 1e-6)
		near(t, w.term+" error", got.SE, w.se, 1e-6)
		near(t, w.term+" t", got.Statistic, w.t0, 1e-6)
		near(t, w.term+" p", got.P, w.p0, 1e-6)
	}
	near(t, "dispersion", r.Model.Dispersion, 1.86183206, 1e-6)
	near(t, "correlation by moments", r.Model.Rho, 0.0249380, 1e-4)
	near(t, "interaction", r.Model.Tests[2].Statistic, 3.441830, 1e-5)
	near(t, "Holm", r.Model.Terms[2].PAdjusted, 3*4.3793e-5, 1e-6)
	if len(r.Treatments) != 4 || r.Treatments[0].Hatched != 99 || r.Treatments[0].Eggs != 272 || r.Treatments[0].Dishes != 5 {
		t.Errorf("treatments %+v", r.Treatments)
	}
	if r.Treatments[3].Levels["seed"] != Num(1) {
		t.Errorf("levels %v", r.Treatments[3].Levels)
	}

	b, err := readCounts(t, crowderSheet).Weigh(WeighOptions{Terms: []string{"seed", "extract", "seed:extract"}, Model: BetaBinomial})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "beta-binomial rho", b.Model.Rho, 0.0123609, 1e-5)
	near(t, "beta-binomial estimate", b.Model.Terms[2].Estimate, 1.320068, 1e-4)
	x, err := readCounts(t, crowderSheet).Weigh(WeighOptions{Terms: []string{"seed", "extract", "seed:extract"}, Model: MixedLogistic})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "logistic-normal estimate", x.Model.Terms[2].Estimate, 1.337039, 1e-4) // lme4, 25 points
	if p := x.Model.Tests[2].P; !p.Known() || p < 0.01 || p > 0.1 {
		t.Errorf("logistic-normal interaction p %v", p)
	}
	if b.Model.Terms[0].DF != nil {
		t.Error("a normal test has degrees of freedom")
	}
}

// brglm2 and brglm on 0/25, 7/25, 2/25 and 25/25.
func TestWeighSeparated(t *testing.T) {
	sheet := "dish,eggs,hatched,cold,low\na,25,0,0,0\nb,25,7,1,0\nc,25,2,0,1\nd,25,25,1,1\n"
	r, err := readCounts(t, sheet).Weigh(WeighOptions{Terms: []string{"cold", "low"}})
	if err != nil {
		t.Fatal(err)
	}
	if r.Model.Kind != BiasReduced {
		t.Fatalf("model %s", r.Model.Kind)
	}
	for i, want := range []float64{-7.10067378, 6.19894923, 4.86142071} {
		near(t, "estimate", r.Model.Terms[i].Estimate, want, 1e-5)
	}
	var out bytes.Buffer
	if err := json.NewEncoder(&out).Encode(r); err != nil {
		t.Fatal(err)
	}
	two, err := readCounts(t, "dish,eggs,hatched,cold\na,20,0,0\nb,20,13,1\n").Weigh(WeighOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if two.Exact == nil || math.Abs(two.Exact.P-1.28843288e-5) > 1e-11 || two.Model.Terms[1].P.Known() {
		t.Errorf("two dishes: exact %+v, terms %+v", two.Exact, two.Model.Terms)
	}
	if err := json.NewEncoder(&out).Encode(two); err != nil {
		t.Fatal(err)
	}
}

func TestReadCountsRefuses(t *testing.T) {
	tests := []struct{ name, sheet, want string }{
		{"empty", "", "empty"},
		{"no hatched", "dish,eggs\n1,2\n", "no column hatched"},
		{"column twice", "dish,hatched,Hatched\n", "no name of its own"},
		{"not a number", "dish,eggs,hatched\na,10,x\n", "line 2: hatched: \"x\" is no count"},
		{"negative", "dish,eggs,hatched\na,10,-1\n", "line 2"},
		{"too many", "dish,eggs,hatched\na,10,2\nb,10,11\n", "line 3: dish b: 11 hatched, dead or emerged of 10 eggs"},
		{"too many over days", "dish,date,eggs,hatched,dead\na,2026-01-02,10,6,0\na,2026-01-01,10,4,1\n", "line 2: dish a: 11"},
		{"eggs change", "dish,date,eggs,hatched\na,2026-01-01,10,6\na,2026-01-02,12,1\n", "12 eggs here, 10 on an earlier line"},
		{"same day", "dish,date,eggs,hatched\na,2026-01-01,10,6\na,2026-01-01,10,1\n", "second look on 2026-01-01"},
		{"two lines", "dish,eggs,hatched\na,10,6\na,10,1\n", "second look without a date"},
		{"bad date", "dish,date,eggs,hatched\na,2/4/95,10,6\n", "write it as 2026-01-31"},
		{"nothing counted", "dish,eggs,hatched\na,10,\n", "no counts yet"},
		{"no label", "dish,eggs,hatched\n,10,1\n", "no label"},
		{"ragged", "dish,eggs,hatched\na,10\n", "reading counts"},
	}
	for _, tt := range tests {
		_, err := ReadCounts(strings.NewReader(tt.sheet))
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: got %v, want …%s…", tt.name, err, tt.want)
		}
	}
}

func TestWeighRefuses(t *testing.T) {
	tests := []struct {
		sheet, want string
		opt         WeighOptions
	}{
		{"dish,eggs,hatched\na,10,1\n", "count at least two", WeighOptions{}},
		{"dish,hatched\na,1\nb,2\n", "eggs column", WeighOptions{}},
		{"dish,eggs,hatched,x\na,10,1,u\nb,10,1,v\n", "no column is named", WeighOptions{Terms: []string{"y"}}},
		{"dish,eggs,hatched,x\na,10,1,u\nb,10,1,v\n", "no model", WeighOptions{Model: "y"}},
		{"dish,eggs,hatched,x\na,10,1,u\nb,10,1,\n", "no level of x", WeighOptions{}},
		{"dish,date,eggs,hatched,x\na,2026-01-01,10,1,u\na,2026-01-02,10,1,v\n", "other levels", WeighOptions{}},
	}
	for _, tt := range tests {
		_, err := readCounts(t, tt.sheet).Weigh(tt.opt)
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%q: got %v, want …%s…", tt.sheet, err, tt.want)
		}
	}
}

// Columns for the bench are factors only where a term names them.
func TestBenchColumns(t *testing.T) {
	sheet := "label,chamber,eggs,hatched,dry\na,A,10,3,0\nb,B,10,5,0\nc,A,10,6,14\nd,B,10,9,14\n"
	r, err := readCounts(t, sheet).Weigh(WeighOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Treatments) != 2 || len(r.Model.Terms) != 2 {
		t.Errorf("%d treatments, terms %+v", len(r.Treatments), r.Model.Terms)
	}
	r, err = readCounts(t, sheet).Weigh(WeighOptions{Terms: []string{"trend(dry)", "chamber"}})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Treatments) != 4 || r.Model.Terms[1].Term != "trend(dry)" || r.Model.Terms[2].Term != "chamber=B" {
		t.Errorf("%d treatments, terms %+v", len(r.Treatments), r.Model.Terms)
	}
}

func TestMerge(t *testing.T) {
	a := readCounts(t, "dish,date,eggs,hatched\na,2026-01-01,10,6\nb,2026-01-01,10,1\n")
	b := readCounts(t, "dish,date,eggs,hatched\na,2026-01-01,10,5\na,2026-01-02,10,2\nb,2026-01-01,10,1\n")
	m, err := a.Merge(b)
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Looks) != 3 || m.Looks[0].Hatched != 5 || len(m.Looks[0].Was) != 1 || m.Looks[0].Was[0].Hatched != 6 || m.Looks[1].Was != nil {
		t.Errorf("merged %+v", m.Looks)
	}
	other, err := a.Merge(readCounts(t, "dish,date,eggs,hatched,cold\na,2026-01-02,10,2,7\n"))
	if err != nil || len(other.Names) != 0 {
		t.Errorf("columns %q, %v", other.Names, err)
	}
	if _, err := other.Weigh(WeighOptions{}); err != nil {
		t.Error(err)
	}
	if _, err := m.Merge(readCounts(t, "dish,date,eggs,hatched\na,2026-01-03,10,9\n")); err == nil {
		t.Error("16 of 10 eggs are merged")
	}
}

// hatchPlan invents the counts of a plan: each dish hatches with the chance that
// chance gives, over three looks.
func hatchPlan(t *testing.T, p *Plan, seed uint64, chance func(Dish) float64) *Counts {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 1))
	var sheet strings.Builder
	w := csv.NewWriter(&sheet)
	w.Write([]string{"dish", "date", "emerged", "hatched", "dead"})
	for _, d := range p.Dishes {
		s, err := stat.BetaBinomial{N: d.Eggs, P: chance(d), Rho: p.Odds.Rho}.Sampler()
		if err != nil {
			t.Fatal(err)
		}
		left := s.Draw(r)
		for day := 1; day <= 3; day++ {
			n := left
			if day < 3 {
				n = r.IntN(left + 1)
			}
			left -= n
			w.Write([]string{d.Label, p.Runs[d.Run-1].Trigger.Add(day).String(), fmt.Sprint(left), fmt.Sprint(n), "0"})
		}
	}
	w.Flush()
	return readCounts(t, sheet.String())
}

func questionsPlan(t *testing.T, eggs int) *Plan {
	t.Helper()
	n := func(v float64) *float64 { return &v }
	p, err := New(Request{Taxon: "Branchinecta exempli", Eggs: eggs, Start: start, Seed: 3, Chambers: []Chamber{{Low: 8, High: 8}},
		Questions: []Question{
			{ID: "dry", Kind: KindNeed, Factor: evidence.Drying, Levels: []Level{{Category: "required", Side: 1}, {Category: "not-required", Side: 2}}},
			{ID: "cold", Kind: KindApart, Factor: evidence.ColdLength, Levels: []Level{{Value: n(0), Side: 1}, {Value: n(60), Side: 2}}},
			{ID: "lit", Kind: KindOpposed, Factor: evidence.Light, Levels: []Level{{Category: "light-required", Side: 1, Bearing: evidence.Favours}, {Category: "dark", Side: 2, Bearing: evidence.Prevents}}},
		}})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestVerdicts(t *testing.T) {
	p := questionsPlan(t, 900)
	r, err := p.Weigh(hatchPlan(t, p, 9, func(d Dish) float64 {
		if d.Levels[evidence.Drying] == Num(0) {
			return 0
		}
		if d.Levels[evidence.ColdLength] == Num(60) {
			return 0.75
		}
		return 0.2
	}), WeighOptions{})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, v := range r.Verdicts {
		got = append(got, v.Conflict+" "+v.Side+" "+v.Verdict)
	}
	want := []string{"dry required supported", "dry not-required contradicted", "cold 0 d contradicted", "cold 60 d supported", "lit light-required supported", "lit dark contradicted"}
	if !slices.Equal(got, want) {
		t.Errorf("verdicts %q\nwant %q\n%+v", got, want, r.Verdicts)
	}
	if r.Model.Kind != BiasReduced || len(r.Treatments) != 8 {
		t.Errorf("model %s, %d treatments", r.Model.Kind, len(r.Treatments))
	}
	last := r.Treatments[len(r.Treatments)-1]
	if !last.HalfDays.Known() || last.HalfDays < 0 || last.HalfDays > 3 || last.Emerged < last.Hatched {
		t.Errorf("last treatment %+v", last)
	}
	// The plan survives its own JSON, and the counts read the same against it.
	b, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	var back Plan
	if err := json.Unmarshal(b, &back); err != nil {
		t.Fatal(err)
	}
	if b2, _ := json.Marshal(&back); !bytes.Equal(b, b2) {
		t.Errorf("the plan changes in JSON:\n%s\n%s", b, b2)
	}
}

// Where nothing matters, few sides are called supported or contradicted by
// chance; where the difference is the planned one, the right side is found about
// as often as the plan promises.
func TestVerdictRates(t *testing.T) {
	p := questionsPlan(t, 400)
	rate := func(id, verdict string, chance func(Dish) float64) float64 {
		n := 0
		const trials = 200
		for k := range uint64(trials) {
			r, err := p.Weigh(hatchPlan(t, p, k, chance), WeighOptions{})
			if err != nil {
				t.Fatal(err)
			}
			i := slices.IndexFunc(r.Verdicts, func(v Verdict) bool { return v.Conflict == id && v.Number == 2 })
			if r.Verdicts[i].Verdict == verdict {
				n++
			}
		}
		return float64(n) / trials
	}
	if got := rate("cold", Supported, func(Dish) float64 { return 0.3 }); got > 0.03 {
		t.Errorf("a difference that is not there is found in %.2f of trials", got)
	}
	i := slices.IndexFunc(p.Settles, func(s Settles) bool { return s.Conflict == "cold" })
	got := rate("cold", Supported, func(d Dish) float64 {
		if d.Levels[evidence.ColdLength] == Num(60) {
			return 0.5
		}
		return 0.3
	})
	if math.Abs(got-p.Settles[i].Chance) > 0.1 {
		t.Errorf("the right side is found in %.2f of trials, the plan promised %.2f", got, p.Settles[i].Chance)
	}
}

func TestWeighPlanRefuses(t *testing.T) {
	p := questionsPlan(t, 400)
	d := p.Dishes[0]
	other := p.Dishes[1].Label
	tests := []struct{ sheet, want string }{
		{"dish,hatched\nXXX,1\n", "the plan has no dish"},
		{fmt.Sprintf("dish,hatched\n%s,%d\n%s,1\n", d.Label, d.Eggs+1, other), "cannot be"},
		{fmt.Sprintf("dish,hatched\n%s,1\n1,1\n", d.Label), "under its label and its number"},
	}
	for _, tt := range tests {
		_, err := p.Weigh(readCounts(t, tt.sheet), WeighOptions{})
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%q: got %v, want …%s…", tt.sheet, err, tt.want)
		}
	}
}

func TestWholePlotResult(t *testing.T) {
	req := Request{Eggs: 900, Start: start, Seed: 5, Runs: 2, Chambers: []Chamber{{Low: 4, High: 15}, {Low: 4, High: 15}},
		Factors: []Factor{factor(t, "incubation-temperature=5,12"), factor(t, "drying=7,14")}}
	for _, runs := range []int{1, 2} {
		req.Runs = runs
		p, err := New(req)
		if err != nil {
			t.Fatal(err)
		}
		r, err := p.Weigh(hatchPlan(t, p, 4, func(d Dish) float64 { return 0.3 + 0.03*d.Levels[evidence.WarmTemperature].Number }), WeighOptions{})
		if err != nil {
			t.Fatal(err)
		}
		term := r.Model.Terms[1]
		if term.Term != "incubation-temperature=12" {
			t.Fatalf("terms %+v", r.Model.Terms)
		}
		if runs == 1 && (term.P.Known() || !strings.Contains(strings.Join(r.Notes, " "), "cannot be tested")) {
			t.Errorf("one run: %+v, notes %q", term, r.Notes)
		}
		if runs == 2 && (!term.P.Known() || *term.DF != 2) {
			t.Errorf("two runs: %+v", term)
		}
		if !slices.ContainsFunc(r.Model.Terms, func(t TermResult) bool { return t.Term == "control=untreated" }) {
			t.Errorf("no control term in %+v", r.Model.Terms)
		}
	}
}

// Emergence and hatching are counts of their own: dishes that all emerge but hatch
// only when triggered differ in the one and not in the other.
func TestTwoSteps(t *testing.T) {
	p, err := New(Request{Eggs: 400, Start: start, Incubate: 10, Factors: []Factor{factor(t, "trigger=carbon-dioxide")}})
	if err != nil {
		t.Fatal(err)
	}
	var sheet strings.Builder
	sheet.WriteString("dish,date,emerged,hatched\n")
	for i, d := range p.Dishes {
		early := slices.IndexFunc(d.Steps, func(s Step) bool { return s.Act == ActLook })
		trigger := slices.IndexFunc(d.Steps, func(s Step) bool { return s.Act == actTrigger })
		if early > trigger || d.Steps[trigger].Date.Since(d.Steps[early].Date) < 1 || strings.Contains(d.Steps[early-1].Do, "not yet wetted") {
			t.Fatalf("steps %+v", d.Steps)
		}
		out := 6 + i%3
		hatched := i % 2
		if d.Levels[evidence.Trigger] != Cat("flooding") {
			hatched = out - 1
		}
		fmt.Fprintf(&sheet, "%s,%s,%d,0\n%s,%s,%d,%d\n", d.Label, d.Steps[early].Date, out, d.Label, d.Steps[trigger].Date.Add(2), out-hatched, hatched)
	}
	c := readCounts(t, sheet.String())
	hatched, err := p.Weigh(c, WeighOptions{})
	if err != nil {
		t.Fatal(err)
	}
	emerged, err := p.Weigh(c, WeighOptions{Outcome: "emerged"})
	if err != nil {
		t.Fatal(err)
	}
	if hatched.Model.Terms[1].P > 1e-4 || emerged.Model.Terms[1].P < 0.2 {
		t.Errorf("hatching p %v, emergence p %v", hatched.Model.Terms[1].P, emerged.Model.Terms[1].P)
	}
	if emerged.Treatments[0].Hatched != hatched.Treatments[0].Hatched || emerged.Treatments[0].Emerged < 6 {
		t.Errorf("treatments %+v", emerged.Treatments)
	}
	if _, err := p.Weigh(c, WeighOptions{Outcome: "alive"}); err == nil {
		t.Error("an unknown outcome passes")
	}
}

func FuzzReadCounts(f *testing.F) {
	f.Add(crowderSheet)
	f.Add("dish,date,eggs,emerged,hatched,dead,note\nACE,2026-01-01,10,1,2,3,\"a \"\"note\"\"\"\n")
	f.Add("\uFEFFdish,hatched\r\n1,\r\n")
	f.Fuzz(func(t *testing.T, s string) {
		c, err := ReadCounts(strings.NewReader(s))
		if err != nil {
			return
		}
		for _, dish := range c.byDish() {
			d := sumLooks(dish)
			if d.hatched < 0 || d.eggs > 0 && d.hatched+d.dead > d.eggs {
				t.Errorf("%+v passes", d)
			}
		}
		if m, err := c.Merge(c); err != nil || len(m.Looks) != len(c.Looks) {
			t.Errorf("merging counts with themselves: %v", err)
		}
		if r, err := c.Weigh(WeighOptions{}); err == nil {
			if _, err := json.Marshal(r); err != nil {
				t.Error(err)
			}
		}
	})
}
