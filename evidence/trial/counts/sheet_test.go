package counts_test

import (
	"strings"
	"testing"

	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/outcome"
	"hatchlore/evidence/trial/trialtest"
)

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
		_, err := counts.Read(strings.NewReader(tt.sheet))
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: got %v, want …%s…", tt.name, err, tt.want)
		}
	}
}

func TestMerge(t *testing.T) {
	a := trialtest.Sheet(t, "dish,date,eggs,hatched\na,2026-01-01,10,6\nb,2026-01-01,10,1\n")
	b := trialtest.Sheet(t, "dish,date,eggs,hatched\na,2026-01-01,10,5\na,2026-01-02,10,2\nb,2026-01-01,10,1\n")
	m, err := a.Merge(b)
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Looks) != 3 || m.Looks[0].Hatched != 5 || len(m.Looks[0].Was) != 1 || m.Looks[0].Was[0].Hatched != 6 || m.Looks[1].Was != nil {
		t.Errorf("merged %+v", m.Looks)
	}
	other, err := a.Merge(trialtest.Sheet(t, "dish,date,eggs,hatched,cold\na,2026-01-02,10,2,7\n"))
	if err != nil || len(other.Names) != 0 {
		t.Errorf("columns %q, %v", other.Names, err)
	}
	if _, err := outcome.WeighTable(other, outcome.WeighOptions{}); err != nil {
		t.Error(err)
	}
	if _, err := m.Merge(trialtest.Sheet(t, "dish,date,eggs,hatched\na,2026-01-03,10,9\n")); err == nil {
		t.Error("16 of 10 eggs are merged")
	}
}

// The fields of a form are read as the cells of a sheet are.
func TestEntry(t *testing.T) {
	l, err := counts.Entry{Dish: " ACE ", Date: "2026-03-01", Emerged: "", Hatched: "3", Dead: "0", Note: " slow "}.Look()
	if err != nil || l.Dish != "ACE" || l.Emerged != counts.Unseen || l.Hatched != 3 || l.Dead != 0 || l.Note != "slow" || l.Empty() {
		t.Errorf("%+v, %v", l, err)
	}
	if l, err := (counts.Entry{Dish: "ACE"}).Look(); err != nil || !l.Empty() {
		t.Errorf("nobody looked: %+v, %v", l, err)
	}
	for want, e := range map[string]counts.Entry{
		"no label": {Hatched: "1"}, "hatched: \"x\" is no count": {Dish: "A", Hatched: "x"}, "write it as": {Dish: "A", Date: "1/2/3"}, "dead:": {Dish: "A", Dead: "-2"},
	} {
		if _, err := e.Look(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v, want %q", e, err, want)
		}
	}
}
