package design

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/stat"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/verdict"
)

func parse(t *testing.T, s string) trial.Factor {
	t.Helper()
	f, err := trial.ParseFactor(s)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

var start = trial.Day{Year: 2026, Month: 1, Date: 10}

func TestNew(t *testing.T) {
	req := Request{Taxon: "Branchinecta exempli", Eggs: 240, Dishes: 24, EggsPerDish: 9, Start: start, Seed: 7,
		Chambers: []trial.Chamber{{Low: 12, High: 12}},
		Factors:  []trial.Factor{parse(t, "drying=0,14"), parse(t, "stratification-length=30,90")}}
	p, err := New(req)
	if err != nil {
		t.Fatal(err)
	}
	if p.EggsKept != 240-p.EggsUsed || p.EggsKept < 24 {
		t.Errorf("%d eggs used and %d kept of 240", p.EggsUsed, p.EggsKept)
	}
	rows := p.Treatments()
	if len(rows) != 5 || !rows[4].Control {
		t.Fatalf("want four treatments and a control, got %+v", rows)
	}
	for _, r := range rows {
		if r.Dishes != 4 {
			t.Errorf("%v has %d dishes, want 4", r.Levels, r.Dishes)
		}
	}
	if got, want := p.Trigger, start.Add(14+90+1); got != want {
		t.Errorf("trigger on %s, want %s", got, want)
	}
	if p.Runs[0].Temperature != 12 || p.Runs[0].Chamber != "chamber 1" {
		t.Errorf("run %+v", p.Runs[0])
	}
}

func TestControlIsThereAlready(t *testing.T) {
	p, err := New(Request{Eggs: 200, Start: start, Factors: []trial.Factor{parse(t, "drying=0,14"), parse(t, "light=dark,12:12")}})
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Treatments()) != 4 {
		t.Errorf("got %d treatments, want the 4 of the factorial", len(p.Treatments()))
	}
}

func TestRefusals(t *testing.T) {
	tests := []struct {
		name string
		req  Request
		want string
	}{
		{"no eggs", Request{Start: start}, "number of eggs"},
		{"no day", Request{Eggs: 100}, "first day or its trigger day"},
		{"nothing to try", Request{Eggs: 100, Start: start}, "nothing to try"},
		{"too few dishes", Request{Eggs: 1000, Dishes: 6, Start: start, Factors: []trial.Factor{parse(t, "drying=0,14"), parse(t, "light=dark,12:12")}},
			"4 treatments need 8 dishes and 40 eggs (2 dishes each, 5 eggs a dish), but there are 6 dishes and 900 eggs (100 more are kept back): drop the factor light (4 dishes and 20 eggs then do), or allow 8 dishes"},
		{"too many levels", Request{Eggs: 200, Dishes: 6, Start: start, Factors: []trial.Factor{parse(t, "drying=0,7,14,28")}}, "give drying fewer levels, or allow 8 dishes"},
		{"too few eggs", Request{Eggs: 40, EggsPerDish: 10, Start: start, Factors: []trial.Factor{parse(t, "drying=0,14")}}, "there are 48 dishes and 30 eggs (10 more are kept back): set 7 eggs a dish"},
		{"fewer eggs a dish", Request{Eggs: 40, EggsPerDish: 10, Start: start, Factors: []trial.Factor{parse(t, "drying=0,14"), parse(t, "light=dark,12:12")}}, "drop the factor light"},
		{"temperature", Request{Eggs: 400, Start: start, Chambers: []trial.Chamber{{Low: 5, High: 5}, {Low: 12, High: 12}},
			Factors: []trial.Factor{parse(t, "incubation-temperature=5,20")}}, "no chamber holds 20 °C (they hold 5 °C, 12 °C)"},
		{"fixed temperature", Request{Eggs: 400, Start: start, Chambers: []trial.Chamber{{Low: 5, High: 5}},
			Factors: []trial.Factor{parse(t, "incubation-temperature=20"), parse(t, "drying=0,14")}}, "no chamber holds 20 °C"},
		{"trigger too early", Request{Eggs: 400, Start: start, Trigger: start.Add(3), Factors: []trial.Factor{parse(t, "drying=0,14")}}, "takes 15 days, so the trigger day can be 2026-01-25"},
		{"too many dishes", Request{Eggs: 400, Dishes: 501, Start: start}, "at most 500 dishes"},
		{"forward from a trigger", Request{Eggs: 400, Trigger: start, Forward: true}, "give the first day"},
		{"all kept", Request{Eggs: 40, KeepBack: new(40), Start: start}, "leaves none"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := New(tt.req)
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want …%s…", err, tt.want)
			}
		})
	}
	_, err := New(tests[3].req)
	var u *Unaffordable
	if !errors.As(err, &u) || u.NeedDishes != 8 {
		t.Errorf("got %v, want an Unaffordable with 8 dishes", err)
	}
}

func TestQuestions(t *testing.T) {
	n := func(v float64) *float64 { return &v }
	req := Request{Taxon: "Branchinecta exempli", Eggs: 260, Dishes: 24, Start: start, Seed: 3,
		Chambers: []trial.Chamber{{Low: 8, High: 8}},
		Questions: []trial.Question{
			{ID: "c1", Kind: "need", Factor: evidence.Drying, Levels: []trial.Level{{Category: "required", Claims: []string{"a"}, Side: 1}, {Category: "not-required", Claims: []string{"b"}, Side: 2}}},
			{ID: "c2", Kind: "apart", Factor: evidence.ColdLength, Unit: "d", Levels: []trial.Level{{Value: n(30), Claims: []string{"c"}, Side: 1}, {Value: n(60), Claims: []string{"d"}, Side: 2}, {Value: n(90), Claims: []string{"d"}, Side: 2}}},
			{ID: "c3", Kind: "apart", Factor: evidence.WarmTemperature, Levels: []trial.Level{{Value: n(5), Side: 1}, {Value: n(20), Side: 2}}},
			{ID: "c4", Kind: "apart", Factor: evidence.TimeToHatch, Levels: []trial.Level{{Value: n(5), Side: 1}, {Value: n(20), Side: 2}}},
			{ID: "c5", Kind: "need", Factor: evidence.Freezing, Levels: []trial.Level{{Category: "helpful", Side: 1}, {Category: "not-required", Side: 2}}},
			{ID: "c6", Kind: "opposed", Factor: evidence.Light, Levels: []trial.Level{{Category: "light-required", Side: 1}, {Category: "dark", Side: 2}}},
		}}
	p, err := New(req)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, f := range p.Factors {
		got = append(got, fmt.Sprintf("%s %v %v", f.ID, f.Levels, f.Claims))
	}
	want := []string{"drying [0 14] [a b]", "stratification-length [30 90] [c d]", "freezing [none -18] []", "light [dark 12:12] []"}
	if !slices.Equal(got, want) || p.Design.Kind != "fraction" || p.Design.Resolution != "IV" || len(p.Design.Aliases) != 3 {
		t.Errorf("factors %q, want %q in a fraction, not %+v", got, want, p.Design)
	}
	var out []string
	for _, o := range p.LeftOut {
		out = append(out, o.Conflict)
	}
	if !slices.Equal(out, []string{"c3", "c4", ""}) {
		t.Errorf("left out %q: %+v", out, p.LeftOut)
	}
	if len(p.Settles) != 4 || p.Settles[0].Chance <= 0 {
		t.Errorf("settles %+v", p.Settles)
	}
	const noCold = "no dish gets a cold-moist period"
	if said := strings.Join(p.Warnings, " "); strings.Contains(said, noCold) {
		t.Errorf("cold is tried: warnings %q", said)
	}
	req.Eggs = 40
	if p, err = New(req); err != nil {
		t.Fatal(err)
	}
	if said := strings.Join(p.Warnings, " "); !strings.Contains(said, noCold) {
		t.Errorf("too few eggs to try cold: factors %+v, warnings %q", p.Factors, said)
	}
	for _, o := range p.LeftOut {
		if o.Factor == evidence.ColdLength && o.Conflict == "" {
			t.Errorf("the factor is left out whole, and yet a level of it: %+v", o)
		}
	}
}

// Two sides at 30 and 90 days beside untreated eggs: when dishes are short the
// untreated level leaves the factorial first and stands beside it instead.
func TestThinning(t *testing.T) {
	n := func(v float64) *float64 { return &v }
	req := Request{Eggs: 400, Dishes: 11, Start: start, Questions: []trial.Question{
		{ID: "a", Kind: trial.KindApart, Factor: evidence.ColdLength, Levels: []trial.Level{{Value: n(0)}, {Value: n(30), Side: 1}, {Value: n(60)}, {Value: n(90), Side: 2}}},
		{ID: "b", Kind: trial.KindOpposed, Factor: evidence.Conductivity, Levels: []trial.Level{
			{Value: n(50)}, {Value: n(800), Side: 1, Bearing: evidence.Favours}, {Value: n(800), Side: 2, Bearing: evidence.Prevents}}},
	}}
	p, err := New(req)
	if err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprint(p.Factors[0].Levels, p.Factors[1].Levels); got != "[30 90] [50 800]" || len(p.Treatments()) != 5 || len(p.Dishes) != 10 {
		t.Errorf("levels %s, %d treatments", got, len(p.Treatments()))
	}
	if len(p.Settles) != 2 || p.Settles[1].Chance < 0.5 {
		t.Errorf("settles %+v", p.Settles)
	}
}

func TestWholePlot(t *testing.T) {
	req := Request{Eggs: 400, Start: start, Seed: 5, Chambers: []trial.Chamber{{Low: 4, High: 15}, {Low: 4, High: 15}},
		Factors: []trial.Factor{parse(t, "incubation-temperature=5,12"), parse(t, "drying=0,14")}}
	one, err := New(req)
	if err != nil {
		t.Fatal(err)
	}
	if one.Power[0].Power != 0 || !one.Design.SplitPlot || !strings.Contains(strings.Join(one.Warnings, "\n"), "cannot be tested") {
		t.Errorf("one run per temperature: power %v, warnings %q", one.Power, one.Warnings)
	}
	req.Runs = 2
	two, err := New(req)
	if err != nil {
		t.Fatal(err)
	}
	if two.Power[0].Power <= 0 || len(two.Runs) != 4 || two.Runs[3].Batch != 2 {
		t.Errorf("two runs per temperature: power %v, runs %+v", two.Power, two.Runs)
	}
	held := map[string]bool{}
	for _, r := range two.Runs {
		held[fmt.Sprint(r.Chamber, r.Temperature)] = true
	}
	if len(held) != 4 {
		t.Errorf("chambers do not swap their temperatures: %+v", two.Runs)
	}
	if two.Power[1].Power < one.Power[1].Power-0.15 {
		t.Errorf("drying loses power between one run (%v) and two (%v)", one.Power[1], two.Power[1])
	}
}

// A temperature that is repeated in the same chamber has no second chamber, nor has
// a cold-moist temperature whose runs lie in one refrigerator: such repeats count
// as one, and the plan says so.
func TestRepeatsInOnePlace(t *testing.T) {
	at := func(low, high float64) trial.Chamber { return trial.Chamber{Low: low, High: high} }
	for _, tt := range []struct {
		name     string
		chambers []trial.Chamber
		factor   string
		runs     int
		testable bool
		says     string
	}{
		{"each in its own chamber twice", []trial.Chamber{at(5, 5), at(12, 12)}, "incubation-temperature=5,12", 2, false, "which shows what differs from time to time"},
		{"swapped", []trial.Chamber{at(4, 15), at(4, 15)}, "incubation-temperature=5,12", 2, true, ""},
		{"one of three shared", []trial.Chamber{at(4, 15), at(4, 15)}, "incubation-temperature=5,12", 3, true, "count as one"},
		{"two chambers each", []trial.Chamber{at(5, 5), at(5, 5), at(12, 12), at(12, 12)}, "incubation-temperature=5,12", 2, true, ""},
		{"no chambers named", nil, "incubation-temperature=5,12", 2, true, "supposes one for each of its temperatures and runs"},
		{"one refrigerator", []trial.Chamber{at(12, 12), at(12, 12)}, "stratification-temperature=3,6", 2, false, "cannot be tested"},
	} {
		p, err := New(Request{Eggs: 600, Start: start, Seed: 5, Runs: tt.runs, Chambers: tt.chambers, Factors: []trial.Factor{parse(t, tt.factor)}})
		if err != nil {
			t.Fatal(err)
		}
		said := strings.Join(p.Warnings, "\n")
		if testable := p.Power[0].Power > 0; testable != tt.testable || p.Testable(p.Factors[0]) != tt.testable || !strings.Contains(said, tt.says) {
			t.Errorf("%s: power %v, warnings %q, want …%s…", tt.name, p.Power[0].Power, said, tt.says)
		}
		if tt.testable && strings.Contains(said, "cannot be tested") || tt.says == "" && strings.Contains(said, "count as one") {
			t.Errorf("%s: warnings %q", tt.name, said)
		}
	}
}

// TestProperties lays out many random requests and checks what every plan must
// hold: balance, budget, labels, dates, orthogonality, and that the same seed
// gives the same plan.
func TestProperties(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	plans, refused, kinds := 0, 0, map[string]int{}
	for i := range 3000 {
		req := randomRequest(t, r)
		p, err := layOnly(req)
		if err != nil {
			if err.Error() == "" || strings.ToLower(err.Error()[:1]) != err.Error()[:1] {
				t.Fatalf("refusal %q", err)
			}
			refused++
			continue
		}
		plans++
		kinds[p.Design.Kind]++
		if p.Design.IncompleteBlocks {
			kinds["incomplete blocks"]++
		}
		checkPlan(t, req, p)
		if i%10 == 0 {
			again, err := layOnly(req)
			if err != nil || !reflect.DeepEqual(p, again) {
				t.Fatalf("the same request gave another plan")
			}
		}
		if t.Failed() {
			b, _ := json.Marshal(req)
			t.Fatalf("request %s", b)
		}
	}
	if plans < 1000 || refused < 100 || kinds["full-factorial"] < 500 || kinds["fraction"] < 20 || kinds["d-optimal"] < 50 || kinds["incomplete blocks"] < 20 {
		t.Errorf("%d plans (%v) and %d refusals test too little", plans, kinds, refused)
	}
}

// layOnly is New without the simulation of power, which no property needs.
func layOnly(req Request) (*trial.Plan, error) {
	s, err := req.settle()
	if err != nil {
		return nil, err
	}
	p, _, err := s.lay()
	return p, err
}

func randomRequest(t *testing.T, r *rand.Rand) Request {
	pool := []string{"drying=0,14", "drying=7,14,30", "stratification-length=0,60", "stratification-length=30,90", "freezing=none,-18",
		"light=dark,12:12", "conductivity=50,500", "trigger=flooding,carbon-dioxide,low-oxygen", "incubation-temperature=5,12",
		"stratification-temperature=4,8", "storage-length=0,365", "ph=6,8", "incubation-temperature=10"}
	req := Request{Taxon: "Branchinecta exempli", Eggs: 20 + r.IntN(900), Seed: r.Uint64(), Runs: r.IntN(3), LookDays: r.IntN(40), Incubate: max(0, r.IntN(30)-15)}
	for _, k := range r.Perm(len(pool))[:1+r.IntN(5)] {
		f := parse(t, pool[k])
		if !slices.ContainsFunc(req.Factors, func(g trial.Factor) bool { return g.ID == f.ID }) {
			req.Factors = append(req.Factors, f)
		}
	}
	if r.IntN(2) == 0 {
		req.Dishes = 2 + r.IntN(60)
	}
	if r.IntN(2) == 0 {
		req.EggsPerDish = 1 + r.IntN(30)
	}
	if r.IntN(2) == 0 {
		req.KeepBack = new(r.IntN(40))
	}
	if r.IntN(3) > 0 {
		for range 1 + r.IntN(3) {
			low := float64(4 + r.IntN(8))
			req.Chambers = append(req.Chambers, trial.Chamber{Low: low, High: low + float64(r.IntN(9))})
		}
	}
	if r.IntN(2) == 0 {
		req.Start, req.Forward = start, r.IntN(3) == 0
	} else {
		req.Trigger = start
	}
	for range r.IntN(4) {
		req.Lots = append(req.Lots, trial.Lot{Name: "moor", Clutch: fmt.Sprint("female ", len(req.Lots)), Eggs: r.IntN(300)})
	}
	if len(req.Lots) > 0 {
		req.Eggs = 0
	}
	return req
}

func checkPlan(t *testing.T, req Request, p *trial.Plan) {
	t.Helper()
	checkBudget(t, req, p)
	checkBalance(t, p)
	checkBlocks(t, p)
	checkLabels(t, p)
	checkDates(t, req, p)
	checkOrthogonal(t, p)
	checkRuns(t, req, p)
}

func checkBudget(t *testing.T, req Request, p *trial.Plan) {
	have, perLot := req.Eggs, map[string]int{}
	for _, l := range req.Lots {
		have += l.Eggs
	}
	used := 0
	for _, d := range p.Dishes {
		used += d.Eggs
		perLot[d.Block()] += d.Eggs
		if d.Eggs < 1 {
			t.Errorf("dish %d has %d eggs", d.Dish, d.Eggs)
		}
	}
	keep := max(10, (have+9)/10)
	if req.KeepBack != nil {
		keep = *req.KeepBack
	}
	if used != p.EggsUsed || used+p.EggsKept != have || p.EggsKept < keep {
		t.Errorf("%d used, %d kept, %d on hand, %d to keep", used, p.EggsKept, have, keep)
	}
	for _, l := range req.Lots {
		if perLot[(trial.Dish{Lot: l.Name, Clutch: l.Clutch}).Block()] > l.Eggs {
			t.Errorf("%s gives %d of %d eggs", l.Clutch, perLot[(trial.Dish{Lot: l.Name, Clutch: l.Clutch}).Block()], l.Eggs)
		}
	}
	most := req.Dishes
	if most == 0 {
		most = 48
	}
	if len(p.Dishes) > most {
		t.Errorf("%d dishes of %d", len(p.Dishes), most)
	}
}

func checkBalance(t *testing.T, p *trial.Plan) {
	rows := p.Treatments()
	for _, row := range rows {
		if row.Dishes != rows[0].Dishes || row.Eggs != rows[0].Eggs || row.Dishes < 2 {
			t.Errorf("treatment %v has %d dishes and %d eggs, the first has %d and %d", row.Levels, row.Dishes, row.Eggs, rows[0].Dishes, rows[0].Eggs)
		}
	}
	perRun := map[string]int{}
	for _, d := range p.Dishes {
		perRun[fmt.Sprint(d.Run, d.Levels, d.Control)]++
	}
	for k, n := range perRun {
		if n*max(1, len(p.Runs)/countPlots(p)) != rows[0].Dishes {
			t.Errorf("run and treatment %s has %d dishes", k, n)
		}
	}
}

// checkBlocks: every lot or clutch holds each treatment of a run equally often,
// so that no difference between clutches passes for one between treatments.
func checkBlocks(t *testing.T, p *trial.Plan) {
	t.Helper()
	if p.Design.IncompleteBlocks {
		checkIncomplete(t, p)
		return
	}
	size := map[string]map[string]int{} // by run and block
	for _, d := range p.Dishes {
		block := fmt.Sprint(d.Run, d.Block())
		if size[block] == nil {
			size[block] = map[string]int{}
		}
		size[block][fmt.Sprint(d.Levels, d.Control)]++
	}
	for block, of := range size {
		want := -1
		for _, n := range of {
			if want >= 0 && n != want {
				t.Errorf("block %s: treatments stand %v times", block, of)
			}
			want = n
		}
	}
}

// checkIncomplete: no clutch has a single dish, and the levels can be told apart
// within clutches.
func checkIncomplete(t *testing.T, p *trial.Plan) {
	t.Helper()
	dishes := map[string]int{}
	for _, d := range p.Dishes {
		dishes[d.Block()]++
	}
	for block, n := range dishes {
		if n < 2 {
			t.Errorf("clutch %s has a single dish", block)
		}
	}
	checkEstimable(t, p)
}

func countPlots(p *trial.Plan) int {
	seen := map[string]bool{}
	for _, d := range p.Dishes {
		key := ""
		for _, f := range p.Factors {
			if f.WholePlot {
				key += fmt.Sprint(d.Levels[f.ID], ";")
			}
		}
		seen[key] = true
	}
	return len(seen)
}

func checkLabels(t *testing.T, p *trial.Plan) {
	seen := map[string]bool{}
	for i, d := range p.Dishes {
		if d.Dish != i+1 || seen[d.Label] || !trial.ValidLabel(d.Label) {
			t.Errorf("dish %d has the label %q", d.Dish, d.Label)
		}
		seen[d.Label] = true
	}
}

func checkDates(t *testing.T, req Request, p *trial.Plan) {
	if !req.Start.IsZero() && p.Start.Before(req.Start) || !req.Trigger.IsZero() && p.Trigger != req.Trigger {
		t.Errorf("start %s and trigger %s", p.Start, p.Trigger)
	}
	first := p.End
	for _, d := range p.Dishes {
		if d.Steps[0].Date.Before(first) {
			first = d.Steps[0].Date
		}
		for i := 1; i < len(d.Steps); i++ {
			if d.Steps[i].Date.Before(d.Steps[i-1].Date) {
				t.Errorf("dish %d: %v before %v", d.Dish, d.Steps[i], d.Steps[i-1])
			}
		}
		i := slices.IndexFunc(d.Steps, func(s trial.Step) bool { return s.Act == trial.ActTrigger })
		if req.Forward {
			if b := p.Runs[d.Run-1].Batch; b == 1 && d.Steps[0].Date != p.Start {
				t.Errorf("dish %d starts on %s, the trial on %s", d.Dish, d.Steps[0].Date, p.Start)
			}
		} else if d.Steps[i].Date != p.Runs[d.Run-1].Trigger {
			t.Errorf("dish %d is triggered on %s, its run on %s", d.Dish, d.Steps[i].Date, p.Runs[d.Run-1].Trigger)
		}
	}
	if first != p.Start {
		t.Errorf("the plan starts on %s, its first step is on %s", p.Start, first)
	}
}

// checkOrthogonal: in the factorial part every pair of levels of two factors
// occurs equally often.
func checkOrthogonal(t *testing.T, p *trial.Plan) {
	if p.Design.Kind == "d-optimal" {
		checkEstimable(t, p)
		return
	}
	for i, f := range p.Factors {
		for _, g := range p.Factors[:i] {
			pairs := map[[2]trial.Setting]int{}
			for _, d := range p.Dishes {
				if !d.Control {
					pairs[[2]trial.Setting{d.Levels[f.ID], d.Levels[g.ID]}]++
				}
			}
			first := -1
			for pair, n := range pairs {
				if first < 0 {
					first = n
				}
				if n != first || len(pairs) != len(f.Levels)*len(g.Levels) {
					t.Errorf("%s and %s: %v occurs %d times, others %d", f.ID, g.ID, pair, n, first)
				}
			}
		}
	}
}

// checkEstimable: a subset need not be orthogonal, but it tells every level from
// the baseline.
func checkEstimable(t *testing.T, p *trial.Plan) {
	counts := make([]stat.Count, len(p.Dishes))
	for k, d := range p.Dishes {
		counts[k].Eggs = d.Eggs
	}
	c := verdict.Planned(p).Hear(counts, false)
	for i, f := range p.Factors {
		for _, l := range f.Levels[1:] {
			if math.IsNaN(c.Contrast(i, f.Levels[:1], []trial.Setting{l}).Difference) {
				t.Errorf("%s %s cannot be told from the baseline", f.ID, l)
			}
		}
	}
}

func checkRuns(t *testing.T, req Request, p *trial.Plan) {
	at := map[string]float64{}
	for i, r := range p.Runs {
		if r.Run != i+1 {
			t.Errorf("run %d is number %d", i, r.Run)
		}
		key := fmt.Sprint(r.Batch, r.Chamber)
		if temp, ok := at[key]; ok && temp != r.Temperature {
			t.Errorf("%s holds %v and %v at once", r.Chamber, temp, r.Temperature)
		}
		at[key] = r.Temperature
		if len(req.Chambers) > 0 {
			var n int
			fmt.Sscanf(r.Chamber, "chamber %d", &n)
			if n < 1 || !req.Chambers[n-1].Holds(r.Temperature) {
				t.Errorf("%s cannot hold %v", r.Chamber, r.Temperature)
			}
		}
	}
}

// Eggs of short treatments wait for those of long ones, unless all dishes start on
// the first day; either way the plan says what that mixes.
func TestWaitIsSaid(t *testing.T) {
	for _, tt := range []struct {
		factor  string
		forward bool
		want    string
	}{
		{"stratification-length=0,60", false, "wait up to 60 days to be set out"},
		{"stratification-length=0,60", true, "meet their triggers on different days"},
		{"drying=0,6", false, ""},
	} {
		p, err := New(Request{Eggs: 200, Start: start, Forward: tt.forward, Factors: []trial.Factor{parse(t, tt.factor)}})
		if err != nil {
			t.Fatal(err)
		}
		said := strings.Join(p.Warnings, "\n")
		if !strings.Contains(said, tt.want) || tt.want == "" && strings.Contains(said, "wait up to") || tt.forward && strings.Contains(said, "wait up to") {
			t.Errorf("%s, forward %v: %q", tt.factor, tt.forward, said)
		}
	}
}
