package outcome

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/design"
	"hatchlore/evidence/trial/trialtest"
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

func near(t *testing.T, what string, got Figure, want, tol float64) {
	t.Helper()
	if !got.Known() || math.Abs(float64(got)-want) > tol {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

// Estimates, errors, t and p from R's quasi-binomial glm; beta-binomial from
// glmmTMB and VGAM; Wilson limits of 10/39 are not pooled ones.
func TestWeighCrowder(t *testing.T) {
	r, err := WeighTable(trialtest.Sheet(t, crowderSheet), WeighOptions{Terms: []string{"seed", "extract", "seed:extract"}})
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
	if r.Treatments[3].Levels["seed"] != trial.Num(1) {
		t.Errorf("levels %v", r.Treatments[3].Levels)
	}

	b, err := WeighTable(trialtest.Sheet(t, crowderSheet), WeighOptions{Terms: []string{"seed", "extract", "seed:extract"}, Model: BetaBinomial})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "beta-binomial rho", b.Model.Rho, 0.0123609, 1e-5)
	near(t, "beta-binomial estimate", b.Model.Terms[2].Estimate, 1.320068, 1e-4)
	x, err := WeighTable(trialtest.Sheet(t, crowderSheet), WeighOptions{Terms: []string{"seed", "extract", "seed:extract"}, Model: MixedLogistic})
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

// What the figures suppose is said beside them: a term beside its product, an exact
// test beside several dishes, intervals that take eggs by themselves.
func TestNotes(t *testing.T) {
	const two = "dish,eggs,hatched,dry\na,10,0,0\nb,10,9,0\nc,10,1,14\nd,10,10,14\n"
	for _, tt := range []struct {
		sheet string
		opt   WeighOptions
		want  string
		not   bool
	}{
		{crowderSheet, WeighOptions{Terms: []string{"seed", "extract", "seed:extract"}}, "beside seed:extract, the term extract tells of the first level of seed alone", false},
		{crowderSheet, WeighOptions{Terms: []string{"seed", "extract"}}, "alone", true},
		{crowderSheet, WeighOptions{}, "about 1.5 times as wide", false},
		{crowderSheet, WeighOptions{Model: BetaBinomial}, "somewhat too small", false},
		{crowderSheet, WeighOptions{}, "somewhat too small", true},
		{two, WeighOptions{}, "the exact test takes every egg by itself", false},
		{"dish,eggs,hatched,dry\na,10,3,0\nb,10,9,14\n", WeighOptions{}, "the exact test takes", true},
	} {
		r, err := WeighTable(trialtest.Sheet(t, tt.sheet), tt.opt)
		if err != nil {
			t.Fatal(err)
		}
		if said := strings.Join(r.Notes, "\n"); strings.Contains(said, tt.want) == tt.not {
			t.Errorf("%+v: notes %q, want %q: %v", tt.opt, said, tt.want, !tt.not)
		}
	}
}

// brglm2 and brglm on 0/25, 7/25, 2/25 and 25/25.
func TestWeighSeparated(t *testing.T) {
	sheet := "dish,eggs,hatched,cold,low\na,25,0,0,0\nb,25,7,1,0\nc,25,2,0,1\nd,25,25,1,1\n"
	r, err := WeighTable(trialtest.Sheet(t, sheet), WeighOptions{Terms: []string{"cold", "low"}})
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
	two, err := WeighTable(trialtest.Sheet(t, "dish,eggs,hatched,cold\na,20,0,0\nb,20,13,1\n"), WeighOptions{})
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
		_, err := WeighTable(trialtest.Sheet(t, tt.sheet), tt.opt)
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%q: got %v, want …%s…", tt.sheet, err, tt.want)
		}
	}
}

// Columns for the bench are factors only where a term names them.
func TestBenchColumns(t *testing.T) {
	sheet := "label,chamber,eggs,hatched,dry\na,A,10,3,0\nb,B,10,5,0\nc,A,10,6,14\nd,B,10,9,14\n"
	r, err := WeighTable(trialtest.Sheet(t, sheet), WeighOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Treatments) != 2 || len(r.Model.Terms) != 2 {
		t.Errorf("%d treatments, terms %+v", len(r.Treatments), r.Model.Terms)
	}
	r, err = WeighTable(trialtest.Sheet(t, sheet), WeighOptions{Terms: []string{"trend(dry)", "chamber"}})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Treatments) != 4 || r.Model.Terms[1].Term != "trend(dry)" || r.Model.Terms[2].Term != "chamber=B" {
		t.Errorf("%d treatments, terms %+v", len(r.Treatments), r.Model.Terms)
	}
}

func TestVerdicts(t *testing.T) {
	p := trialtest.Questions(t, 900)
	r, err := Weigh(p, trialtest.Hatch(t, p, 9, func(d trial.Dish) float64 {
		if d.Levels[evidence.Drying] == trial.Num(0) {
			return 0
		}
		if d.Levels[evidence.ColdLength] == trial.Num(60) {
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
	var back trial.Plan
	if err := json.Unmarshal(b, &back); err != nil {
		t.Fatal(err)
	}
	if b2, _ := json.Marshal(&back); !bytes.Equal(b, b2) {
		t.Errorf("the plan changes in JSON:\n%s\n%s", b, b2)
	}
}

func TestWholePlotResult(t *testing.T) {
	req := design.Request{Eggs: 900, Start: trialtest.Start, Seed: 5, Runs: 2, Chambers: []trial.Chamber{{Low: 4, High: 15}, {Low: 4, High: 15}},
		Factors: []trial.Factor{trialtest.Factor(t, "incubation-temperature=5,12"), trialtest.Factor(t, "drying=7,14")}}
	for _, runs := range []int{1, 2} {
		req.Runs = runs
		p, err := design.New(req)
		if err != nil {
			t.Fatal(err)
		}
		r, err := Weigh(p, trialtest.Hatch(t, p, 4, func(d trial.Dish) float64 { return 0.3 + 0.03*d.Levels[evidence.WarmTemperature].Number }), WeighOptions{})
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
	p, err := design.New(design.Request{Eggs: 400, Start: trialtest.Start, Incubate: 10, Factors: []trial.Factor{trialtest.Factor(t, "trigger=carbon-dioxide")}})
	if err != nil {
		t.Fatal(err)
	}
	var sheet strings.Builder
	sheet.WriteString("dish,date,emerged,hatched\n")
	for i, d := range p.Dishes {
		early := slices.IndexFunc(d.Steps, func(s trial.Step) bool { return s.Act == trial.ActLook })
		trigger := slices.IndexFunc(d.Steps, func(s trial.Step) bool { return s.Act == trial.ActTrigger })
		if early > trigger || d.Steps[trigger].Date.Since(d.Steps[early].Date) < 1 || strings.Contains(d.Steps[early-1].Do, "not yet wetted") {
			t.Fatalf("steps %+v", d.Steps)
		}
		out := 6 + i%3
		hatched := i % 2
		if d.Levels[evidence.Trigger] != trial.Cat("flooding") {
			hatched = out - 1
		}
		fmt.Fprintf(&sheet, "%s,%s,%d,0\n%s,%s,%d,%d\n", d.Label, d.Steps[early].Date, out, d.Label, d.Steps[trigger].Date.Add(2), out-hatched, hatched)
	}
	c := trialtest.Sheet(t, sheet.String())
	hatched, err := Weigh(p, c, WeighOptions{})
	if err != nil {
		t.Fatal(err)
	}
	emerged, err := Weigh(p, c, WeighOptions{Outcome: "emerged"})
	if err != nil {
		t.Fatal(err)
	}
	if hatched.Model.Terms[1].P > 1e-4 || emerged.Model.Terms[1].P < 0.2 {
		t.Errorf("hatching p %v, emergence p %v", hatched.Model.Terms[1].P, emerged.Model.Terms[1].P)
	}
	if emerged.Treatments[0].Hatched != hatched.Treatments[0].Hatched || emerged.Treatments[0].Emerged < 6 {
		t.Errorf("treatments %+v", emerged.Treatments)
	}
	if _, err := Weigh(p, c, WeighOptions{Outcome: "alive"}); err == nil {
		t.Error("an unknown outcome passes")
	}
}

func TestWeighPlanRefuses(t *testing.T) {
	p := trialtest.Questions(t, 400)
	d := p.Dishes[0]
	other := p.Dishes[1].Label
	tests := []struct{ sheet, want string }{
		{"dish,hatched\nXXX,1\n", "the plan has no dish"},
		{fmt.Sprintf("dish,hatched\n%s,%d\n%s,1\n", d.Label, d.Eggs+1, other), "cannot be"},
		{fmt.Sprintf("dish,hatched\n%s,1\n1,1\n", d.Label), "under its label and its number"},
	}
	for _, tt := range tests {
		_, err := Weigh(p, trialtest.Sheet(t, tt.sheet), WeighOptions{})
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%q: got %v, want …%s…", tt.sheet, err, tt.want)
		}
	}
}

// A level that hatched none is told from the others in a plan whose untreated
// eggs stand beside the factorial.
func TestVerdictsBesideControl(t *testing.T) {
	n := func(v float64) *float64 { return &v }
	p := trialtest.Plan(t, design.Request{Eggs: 400, Dishes: 22, Start: trialtest.Start, Questions: []trial.Question{
		{ID: "a", Kind: trial.KindApart, Factor: evidence.ColdLength, Levels: []trial.Level{{Value: n(30), Side: 1}, {Value: n(90), Side: 2}}},
		{ID: "b", Kind: trial.KindOpposed, Factor: evidence.Conductivity, Levels: []trial.Level{
			{Value: n(50)}, {Value: n(800), Side: 1, Bearing: evidence.Favours}, {Value: n(800), Side: 2, Bearing: evidence.Prevents}}},
	}})
	r, err := Weigh(p, trialtest.Hatch(t, p, 1, func(d trial.Dish) float64 {
		if d.Levels[evidence.Conductivity] == trial.Num(800) {
			return 0
		}
		return 0.5
	}), WeighOptions{})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, v := range r.Verdicts {
		got = append(got, v.Conflict, v.Verdict)
	}
	if strings.Join(got, " ") != "a undecided a undecided b contradicted b supported" {
		t.Errorf("verdicts %+v", r.Verdicts)
	}
}

// Looks before the trigger, at which nothing had hatched, do not pull the time
// to half back: it is counted from the trigger and never below 0.
func TestHalfFromTheTrigger(t *testing.T) {
	p := trialtest.Plan(t, design.Request{Eggs: 200, Start: trialtest.Start, Incubate: 8, Factors: []trial.Factor{trialtest.Factor(t, "trigger=carbon-dioxide")}})
	sheet := "dish,date,emerged,hatched\n"
	for _, d := range p.Dishes {
		sheet += fmt.Sprintf("%s,%s,4,0\n%s,%s,0,4\n", d.Label, d.Trigger().Add(-3), d.Label, d.Trigger().Add(1))
	}
	r, err := Weigh(p, trialtest.Sheet(t, sheet), WeighOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range r.Treatments {
		near(t, "half", row.HalfDays, 0.5, 1e-12) // half way between the trigger and the first look
	}
}

// A trial whose dishes had their first looks only is weighed, and says so.
func TestWeighBeforeLastLook(t *testing.T) {
	p := trialtest.Questions(t, 240)
	c := trialtest.Hatch(t, p, 9, func(trial.Dish) float64 { return 0.4 })
	begun, err := Weigh(p, c, WeighOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range c.Looks { // the third of each dish was its last
		if l.Date == p.Trigger.Add(3) {
			c.Looks[i].Date = p.End
		}
	}
	whole, err := Weigh(p, c, WeighOptions{})
	if err != nil {
		t.Fatal(err)
	}
	const words = "had no last look yet"
	if got := strings.Join(whole.Notes, " "); strings.Contains(got, words) {
		t.Errorf("counted to the end: notes %q", got)
	}
	if got := strings.Join(begun.Notes, " "); !strings.Contains(got, words) {
		t.Errorf("after one look: notes %q", got)
	}
}
