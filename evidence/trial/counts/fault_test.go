package counts_test

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/trialtest"
)

// Whatever reading finds a fault first, faults are told by line.
func TestFaultsComeByLine(t *testing.T) {
	p := takePlan(t)
	label := p.Dishes[0].Label
	sheet, err := counts.Read(strings.NewReader("dish,date,eggs,hatched\n" +
		"QQQ,2026-02-20,10,1\n" + // not of the plan
		label + ",2026-02-20,9,12\n" + // more than were set
		"c,2026-02-20,10,x\n" + // no count
		"d,2026-02-20,10\n" + // a cell short
		"QQR,2026-02-20,10,1\n"))
	got := counts.Together(err, sheet.Unplanned(p))
	want := []string{"line 2: the plan has no dish", "line 3: dish " + label, `line 4: hatched: "x"`, "line 5: 3 cells", "line 6: the plan has no dish"}
	lines := strings.Split(fmt.Sprint(got), "\n")
	if len(lines) != len(want) {
		t.Fatalf("%d faults, want %d: %v", len(lines), len(want), got)
	}
	for i, w := range want {
		if !strings.HasPrefix(lines[i], w) {
			t.Errorf("fault %d is %q, want %q…", i+1, lines[i], w)
		}
	}
	if err := counts.Together(nil, nil); err != nil {
		t.Errorf("nothing wrong is %v", err)
	}
	outer := counts.Together(err, io.ErrUnexpectedEOF)
	if !errors.Is(outer, io.ErrUnexpectedEOF) || !strings.HasPrefix(outer.Error(), "unexpected EOF\nline 3: ") {
		t.Errorf("an error of no line: %v", outer)
	}
}

// faulty is a sheet of n lines with a dish each that no plan has, more hatched in
// it than were set.
func faulty(n int) string {
	var b strings.Builder
	b.WriteString("dish,date,eggs,hatched\n")
	for i := range n {
		fmt.Fprintf(&b, "X%d,2026-02-20,10,11\n", i)
	}
	return b.String()
}

// However many faults a sheet has, the message tells the first and counts the rest.
func TestFaultsAreBounded(t *testing.T) {
	p := takePlan(t)
	for _, n := range []int{1, 2, 8, 9, 5000} {
		sheet, err := counts.Read(strings.NewReader(faulty(n)))
		said := counts.Together(err, sheet.Unplanned(p)).Error()
		told := strings.Count(said, "line ")
		if len(said) > 600 || told < 2 || !strings.HasPrefix(said, "line 2: dish X0") {
			t.Errorf("%d faulty lines: %d bytes, %d faults told: %s", n, len(said), told, said)
		}
		if left := 2*n - told; left > 0 != strings.HasSuffix(said, fmt.Sprintf("\nand %d more", left)) {
			t.Errorf("%d faulty lines: of %d faults %d are told: %s", n, 2*n, told, said)
		}
	}
	_, err := counts.Read(strings.NewReader("dish,hatched\na," + strings.Repeat("ö", 1<<16) + "\n"))
	if said := fmt.Sprint(err); len(said) > 600 || !strings.HasPrefix(said, "line 2: hatched: ") || !strings.HasSuffix(said, "nothing where nobody looked") {
		t.Errorf("a long cell: %d bytes: %.700s", len(said), said)
	}
}

// Refusing a line costs the same in a long sheet and in a short one, by a plan of a
// dish and of four hundred. The cost is what is allocated: looking each line up dish by
// dish, or wording each fault, shows there.
func TestFaultsAreLinear(t *testing.T) {
	work := func(lines, dishes int) float64 {
		text := faulty(lines)
		p := &trial.Plan{Dishes: make([]trial.Dish, dishes)}
		for i := range p.Dishes {
			p.Dishes[i] = trial.Dish{Dish: i + 1, Label: fmt.Sprintf("Z%d", i)}
		}
		return testing.AllocsPerRun(1, func() {
			sheet, err := counts.Read(strings.NewReader(text))
			_ = counts.Together(err, sheet.Unplanned(p)).Error()
		}) / float64(lines)
	}
	const most = 20 // allocations a line
	few, many, planned := work(1000, 1), work(4000, 1), work(4000, 400)
	if few > most || many > most || planned > most {
		t.Errorf("allocations a line: %.1f of 1000 lines, %.1f of 4000, %.1f by a plan of 400 dishes; want at most %d", few, many, planned, most)
	}
}

// A sheet as long as a trial ever has, added to one as long.
func BenchmarkMerge(b *testing.B) {
	text := strings.ReplaceAll(faulty(20000), ",11", ",1")
	before := trialtest.Sheet(b, text)
	more := trialtest.Sheet(b, strings.ReplaceAll(text, "2026-02-20", "2026-02-21"))
	for b.Loop() {
		if m, err := before.Merge(more); err != nil || len(m.Looks) != 40000 {
			b.Fatal(err)
		}
	}
}
