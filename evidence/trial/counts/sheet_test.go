package counts_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/design"
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
		{"ragged", "dish,eggs,hatched\na,10\n", "line 2: 2 cells stand here, the first line names 3"},
		{"blank behind a quote", "dish,eggs,hatched\n\"a\" ,10,1\n", "line 2: a quotation mark opens or ends a cell"},
		{"a quote in the head", "dish,hat\"ched\na,1\n", "line 1: a quotation mark"},
		{"open quote", "dish,eggs,hatched,note\na,10,1,\"damp\nb,10,1,\n", "line 2: a quotation mark"},
	}
	for _, tt := range tests {
		_, err := counts.Read(strings.NewReader(tt.sheet))
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: got %v, want …%s…", tt.name, err, tt.want)
		}
	}
}

// What spreadsheets make of a sheet is read like the sheet itself.
func TestSpreadsheets(t *testing.T) {
	const plain = "dish,date,eggs,hatched,note\nXE3,2026-01-02,10,6,\"dark, damp\"\n4A4,2026-01-02,10,,\n"
	utf16le := func(s string) string {
		var b strings.Builder
		b.WriteString("\xff\xfe")
		for _, c := range s {
			b.WriteByte(byte(c))
			b.WriteByte(byte(c >> 8))
		}
		return b.String()
	}
	semicolons := "dish;date;eggs;hatched;note\r\nXE3;2026-01-02;10;6;\"dark, damp\"\r\n4A4;2026-01-02;10;;\r\n"
	want := trialtest.Sheet(t, plain).Looks
	for name, sheet := range map[string]string{
		"byte-order mark":     "\ufeff" + plain,
		"semicolons":          semicolons,
		"semicolons and mark": "\ufeff" + semicolons,
		"tabs":                strings.ReplaceAll(semicolons, ";", "\t"),
		"UTF-16":              utf16le(plain),
		"UTF-16 with tabs":    utf16le(strings.ReplaceAll(semicolons, ";", "\t")),
	} {
		if got := trialtest.Sheet(t, sheet).Looks; !slices.EqualFunc(got, want, func(a, b counts.Look) bool { return fmt.Sprint(a) == fmt.Sprint(b) }) {
			t.Errorf("%s: %+v, want %+v", name, got, want)
		}
	}
}

// RFC 4180: lines may end in CRLF or LF, the last may have no end, a quoted cell holds
// commas, line ends and doubled quotes.
func TestReadQuotedCells(t *testing.T) {
	for name, sheet := range map[string]string{
		"CRLF": "dish,hatched,note\r\na,1,\"b\"\"bb, and\r\nmore\"\r\n",
		"LF":   "dish,hatched,note\na,1,\"b\"\"bb, and\nmore\"",
	} {
		l := trialtest.Sheet(t, sheet).Looks
		if len(l) != 1 || strings.ReplaceAll(l[0].Note, "\r", "") != "b\"bb, and\nmore" {
			t.Errorf("%s: %+v", name, l)
		}
	}
}

// A label is known in whatever letters it was typed.
func TestLabelsInLowerCase(t *testing.T) {
	p := trialtest.Plan(t, design.Request{Eggs: 100, Start: trialtest.Start, Factors: []trial.Factor{trialtest.Factor(t, "drying=0,14")}})
	label := p.Dishes[0].Label
	got, err := counts.Take(p, nil, trialtest.Sheet(t, "dish,hatched\n"+strings.ToLower(label)+",1\n"))
	if err != nil || got.Looks[0].Dish != label {
		t.Errorf("%+v, %v", got, err)
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
