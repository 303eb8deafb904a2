package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/design"
)

func dryingPlan(t *testing.T, lots ...trial.Lot) *trial.Plan {
	t.Helper()
	f, err := trial.ParseFactor("drying=0,14")
	if err != nil {
		t.Fatal(err)
	}
	start, err := trial.ParseDay("2026-01-10")
	if err != nil {
		t.Fatal(err)
	}
	p, err := design.New(design.Request{Taxon: "Nova alba", Factors: []trial.Factor{f}, Eggs: 120, Lots: lots, Dishes: 8, EggsPerDish: 10, Start: start, Seed: 3})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func sheetOf(t *testing.T, rows ...string) *counts.Sheet {
	t.Helper()
	c, err := counts.Read(strings.NewReader("dish,date,hatched\n" + strings.Join(rows, "\n") + "\n"))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// A trial from its plan to its place in the evidence table.
func TestTrialThroughItsCounts(t *testing.T) {
	ctx := context.Background()
	s := open(t, t.TempDir())
	if err := s.AddLot(ctx, Lot{Name: "north", Taxon: "Nova alba", Eggs: 120}); err != nil {
		t.Fatal(err)
	}
	p := dryingPlan(t, trial.Lot{Name: "north", Eggs: 120})
	id, err := s.KeepTrial(ctx, p)
	if err != nil || id != p.Trial {
		t.Fatalf("kept as %q, %v", id, err)
	}
	if again, err := s.KeepTrial(ctx, p); err != nil || again != id {
		t.Errorf("kept again as %q, %v", again, err)
	}
	other := *p
	other.Seed++
	if next, err := s.KeepTrial(ctx, &other); err != nil || next != id+"-a" {
		t.Errorf("another plan of the same id is kept as %q, %v", next, err)
	}
	if _, err := s.DropTrial(ctx, id+"-a"); err != nil {
		t.Error(err)
	}

	// A first look at one dish, then its correction.
	day := p.Trigger.Add(1).String()
	r, err := s.RecordCounts(ctx, "nova", sheetOf(t, "1,"+day+",2"), "a.csv", false)
	if err != nil || r.New != 1 || r.Told != "" || r.Progress.Counted != 1 {
		t.Fatalf("%+v, %v", r, err)
	}
	r, err = s.RecordCounts(ctx, id, sheetOf(t, "1,"+day+",3"), "b.csv", false)
	if err != nil || r.New != 0 || r.Corrected != 1 {
		t.Fatalf("%+v, %v", r, err)
	}
	r, err = s.RecordCounts(ctx, id, sheetOf(t, "1,"+day+",3"), "b.csv", false)
	if err != nil || r.Same != 1 || r.New+r.Corrected != 0 {
		t.Fatalf("%+v, %v", r, err)
	}
	kept, err := s.Trial(ctx, id)
	if err != nil || len(kept.Counts.Looks) != 1 || kept.Counts.Looks[0].Hatched != 3 || kept.Counts.Looks[0].Was[0].Hatched != 2 {
		t.Fatalf("%+v, %v", kept.Counts, err)
	}
	if l, err := s.Lot(ctx, "NORTH"); err != nil || l.Left != 110 || l.Eggs != 120 {
		t.Errorf("lot %+v, %v", l, err)
	}
	if _, err := s.DropTrial(ctx, id); err == nil {
		t.Error("a trial with counts was dropped")
	}

	// One impossible line, and nothing of the sheet is recorded.
	_, err = s.RecordCounts(ctx, id, sheetOf(t, "2,"+day+",1", "3,"+day+",99"), "c.csv", false)
	if err == nil || !strings.Contains(err.Error(), "line 3") {
		t.Errorf("99 of 10 eggs: %v", err)
	}
	if kept, err := s.Trial(ctx, id); err != nil || len(kept.Counts.Looks) != 1 {
		t.Errorf("%d looks after a refused sheet, %v", len(kept.Counts.Looks), err)
	}

	// The last looks: nothing hatched without drying, half with it.
	var rows []string
	for _, d := range p.Dishes {
		n := 0
		if d.Levels[evidence.Drying] == trial.Num(14) {
			n = 5
		}
		rows = append(rows, fmt.Sprintf("%s,%s,%d", d.Label, p.End, n))
	}
	rows = append(rows, "1,"+day+",0")
	r, err = s.RecordCounts(ctx, id, sheetOf(t, rows...), "d.csv", false)
	if err != nil || r.Told != id || r.Claims == 0 || !r.Progress.Whole() {
		t.Fatalf("%+v, %v", r, err)
	}
	claims, err := s.Claims(ctx, Filter{Paper: id})
	if err != nil || len(claims) != r.Claims {
		t.Fatalf("%d claims, %v", len(claims), err)
	}
	page, err := s.Page(ctx, id, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range claims {
		if got := string([]rune(page.Text)[c.Start:c.End]); got != c.Quote {
			t.Errorf("quote %q stands on %q", c.Quote, got)
		}
		if problems := c.Lint(); len(problems) > 0 {
			t.Errorf("claim %s: %v", c.ID, problems)
		}
	}
	if l, err := s.Lot(ctx, "north"); err != nil || l.Left != 120-p.EggsUsed {
		t.Errorf("lot %+v, %v", l, err)
	}
	if entries, err := s.LotEntries(ctx, "north"); err != nil || len(entries) != 3 || entries[1].Trial != id {
		t.Errorf("entries %+v, %v", entries, err)
	}
	if faults, err := s.Faults(ctx); err != nil || len(faults) != 0 {
		t.Errorf("%v, %v", faults, err)
	}
}

func TestTrialsNamed(t *testing.T) {
	ctx := context.Background()
	s := open(t, t.TempDir())
	a, b := dryingPlan(t), dryingPlan(t)
	a.Trial, b.Trial = "alba-1", "alba-12"
	for _, p := range []*trial.Plan{a, b} {
		if _, err := s.KeepTrial(ctx, p); err != nil {
			t.Fatal(err)
		}
	}
	if got, err := s.Trial(ctx, "alba-1"); err != nil || got.Plan.Trial != "alba-1" {
		t.Errorf("the exact id finds %v", err)
	}
	if _, err := s.Trial(ctx, "alba"); err == nil || !strings.Contains(err.Error(), "alba-1 or alba-12") {
		t.Errorf("two that begin so: %v", err)
	}
	for _, id := range []string{"", "nova", "%"} {
		if _, err := s.Trial(ctx, id); !errors.Is(err, ErrNoTrial) {
			t.Errorf("%q: %v", id, err)
		}
	}
	all, err := s.Trials(ctx)
	if err != nil || len(all) != 2 || all[0].Plan.Trial != "alba-12" {
		t.Errorf("%d trials, %v", len(all), err)
	}
	if _, err := s.RecordCounts(ctx, "alba-1", nil, "", true); err == nil {
		t.Error("a trial without counts was closed")
	}
}

func TestLots(t *testing.T) {
	ctx := context.Background()
	s := open(t, t.TempDir())
	mesh := 150.0
	in := Lot{Name: "Moor 3", Taxon: "Nova alba", Region: "north", Site: "third pool", Sieve: &mesh, Eggs: 80}
	if err := s.AddLot(ctx, in); err != nil {
		t.Fatal(err)
	}
	if err := s.AddLot(ctx, Lot{Name: "moor 3"}); err == nil || !strings.Contains(err.Error(), "already") {
		t.Errorf("the same name again: %v", err)
	}
	in.Permit = "P-1"
	left := 75
	if err := s.EditLot(ctx, in, &left, "recounted"); err != nil {
		t.Fatal(err)
	}
	got, err := s.Lot(ctx, "moor 3")
	if err != nil || got.Left != 75 || got.Permit != "P-1" || *got.Sieve != 150 {
		t.Errorf("%+v, %v", got, err)
	}
	if err := s.EditLot(ctx, Lot{Name: "fen"}, nil, ""); !errors.Is(err, ErrNoLot) {
		t.Errorf("editing what is not there: %v", err)
	}
}

// Results of one year are cited apart, and keep their citation when a count is
// corrected.
func TestOwnTrialsOfOneYear(t *testing.T) {
	ctx := context.Background()
	s := open(t, t.TempDir())
	authors := func() string {
		var out []string
		for l, err := range s.Papers(ctx) {
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, fmt.Sprint(l.Paper, " ", l.Authors, l.Year))
		}
		slices.Sort(out)
		return strings.Join(out, ", ")
	}
	for _, name := range []string{"first", "second"} {
		p := dryingPlan(t)
		p.Trial = name
		if _, err := s.KeepTrial(ctx, p); err != nil {
			t.Fatal(err)
		}
		day := p.Trigger.Add(1).String()
		if _, err := s.RecordCounts(ctx, name, sheetOf(t, "1,"+day+",2", "2,"+day+",3", "3,"+day+",1"), "", true); err != nil {
			t.Fatal(err)
		}
	}
	const want = "first [Own trial] 2026, second [Own trial b] 2026"
	if got := authors(); got != want {
		t.Errorf("told: %s, want %s", got, want)
	}
	for _, name := range []string{"second", "first"} {
		day := dryingPlan(t).Trigger.Add(1).String()
		if _, err := s.RecordCounts(ctx, name, sheetOf(t, "1,"+day+",5"), "", false); err != nil {
			t.Fatal(err)
		}
	}
	if got := authors(); got != want {
		t.Errorf("corrected: %s, want %s", got, want)
	}
}
