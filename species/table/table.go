// Package table makes the evidence table of a species or genus: the claims on it
// in the order of the factors, each with its value in canonical units, what it was
// printed as, where it stands and what speaks for and against the reading.
//
// It refuses to leave a claim out, but for those that the keeper rejected: what
// one paper says twice is one row that names both places.
package table

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/species/taxonomy"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// Row is one line of the evidence table: a claim, or several identical ones of
// one paper, of which the first stands for all.
type Row struct {
	evidence.Claim
	Value    string   `json:"value"`    // canonical, beside Printed
	Citation string   `json:"citation"` // of the paper that says so
	Name     string   `json:"name"`     // current name of Taxon
	Marks    []string `json:"marks"`    // see [Marks]; and "unit? …" where the unit may have gone wrong in print
	Echo     string   `json:"echo"`     // key of the paper in the library that a second-hand claim cites
	After    string   `json:"after"`    // whom a second-hand claim follows, and whether that work is in the library; see [witness.After]
	SameAs   string   `json:"same_as"`  // citation of the paper that published this experiment first, if any
	Borrowed bool     `json:"borrowed"` // of a congener
	Words    string   `json:"words"`    // as a reader would quote it, see fulltext.Words; "" is the quote
	Tabled   bool     `json:"table"`    // Words are a table's
	Also     []Place  `json:"also"`     // where the same paper says the same again
}

// Place is where a folded claim stands.
type Place struct {
	Claim string `json:"claim"`
	Page  int    `json:"page"`
}

// Of lists the claims of a selection in the order of the factors, then of
// what the value did (favours, prevents, indifferent, reported), then by
// value. Identical statements of one paper are folded into one row, and a level
// that it says it tested into the row with the outcome; rejected claims are
// left out.
func Of(s taxonomy.Selection, library witness.Library, names *taxonomy.Names) []Row {
	lib := witness.Shelve(library)
	rows := folded(rowsOf(s.Claims, lib, names, false))
	rows = append(rows, folded(rowsOf(s.Borrowed, lib, names, true))...)
	markSlips(rows)
	slices.SortStableFunc(rows, compareRows)
	return rows
}

func rowsOf(claims []evidence.Claim, lib *witness.Shelf, names *taxonomy.Names, borrowed bool) []Row {
	var out []Row
	for _, c := range witness.Ordered(claims) {
		r := Row{Claim: c, Value: value.Of(c), Citation: lib.Cite(c.Paper), Name: names.Current(c.Taxon),
			Marks: Marks(c), Echo: lib.Echoes(c), After: witness.After(lib.Works(c)), Borrowed: borrowed, Also: []Place{}}
		if w := lib.Witness(c.Paper); w != c.Paper && !c.Secondhand {
			r.SameAs = lib.Cite(w)
		}
		out = append(out, r)
	}
	return out
}

// folded folds rows that say the same, in order; one that does not say which
// stage it counts goes with one of the same paper that does, and one whose
// number hides in a word with one that prints it.
func folded(rows []Row) []Row {
	rows = withOutcome(rows)
	staged := map[string]evidence.Stage{}
	for _, r := range rows {
		if key := statement(r, evidence.StageUnsaid); r.Stage != evidence.StageUnsaid && staged[key] == evidence.StageUnsaid {
			staged[key] = r.Stage
		}
	}
	first := map[string]int{}
	var out []Row
	for _, r := range rows {
		stage := cmp.Or(r.Stage, staged[statement(r, evidence.StageUnsaid)])
		key := statement(r, stage)
		i, seen := first[key]
		if !seen {
			first[key] = len(out)
			out = append(out, r)
			continue
		}
		if out[i].Stage == evidence.StageUnsaid || out[i].Implied && !r.Implied {
			out[i], r = r, out[i]
			out[i].Also = append(r.Also, out[i].Also...)
		}
		out[i].Also = append(out[i].Also, Place{r.ID, r.Page})
		out[i].Marks = agreed(out[i].Marks, r.Marks)
	}
	return out
}

// withOutcome folds rows that only report a level, such as those of a paper's
// methods, into the first row in which the same paper tells what the level did,
// by itself or as an end of a range ("indifferent from 0.15 to 1.5 mS/cm").
func withOutcome(rows []Row) []Row {
	at, ranges := map[string]int{}, map[string][]int{}
	for i, r := range rows {
		key := level(r)
		if r.Bearing == evidence.Reported || key == "" {
			continue
		}
		if _, seen := at[key]; !seen {
			at[key] = i
		}
		if r.Low != nil && r.High != nil && *r.Low < *r.High {
			ranges[measure(r)] = append(ranges[measure(r)], i)
		}
	}
	told := func(r Row) (int, bool) {
		if r.Bearing != evidence.Reported || level(r) == "" {
			return 0, false
		}
		if i, ok := at[level(r)]; ok {
			return i, true
		}
		for _, i := range ranges[measure(r)] {
			if o := rows[i]; r.Low != nil && r.High != nil && *r.Low == *r.High && (*r.Low == *o.Low || *r.High == *o.High) {
				return i, true
			}
		}
		return 0, false
	}
	var out []Row
	for _, r := range rows {
		if i, ok := told(r); ok {
			rows[i].Also = append(rows[i].Also, Place{r.ID, r.Page})
		}
	}
	for _, r := range rows {
		if _, ok := told(r); !ok {
			out = append(out, r)
		}
	}
	return out
}

// measure is what makes the numbers of two rows of one paper comparable.
func measure(r Row) string {
	return strings.Join([]string{r.Paper, r.Name, string(r.Factor), r.Unit}, "|")
}

// level is what makes two rows speak of one level of one paper's own work, ""
// for what is none: an outcome, or somebody else's finding.
func level(r Row) string {
	if m, _ := evidence.MeasureOf(r.Factor); m.Outcome || r.Secondhand {
		return ""
	}
	if value.HasNumber(r.Claim) {
		return strings.Join([]string{r.Paper, r.Name, string(r.Factor), value.Number(r.Claim)}, "|")
	}
	return strings.Join([]string{r.Paper, r.Name, string(r.Factor), r.Category}, "|")
}

// statement is what makes two claims of one paper the same, as told of a stage.
func statement(r Row, stage evidence.Stage) string {
	second := ""
	if r.Secondhand {
		second = "2 " + cmp.Or(r.Echo, strings.Join(slices.Sorted(maps.Keys(witness.WordSet(r.Cited))), " "))
	}
	return strings.Join([]string{r.Paper, r.Name, string(r.Factor), string(r.Bearing), string(stage), value.Number(r.Claim), r.Category, second}, "|")
}

func compareRows(a, b Row) int {
	flag := func(x bool) int {
		if x {
			return 1
		}
		return 0
	}
	return cmp.Or(a.Factor.Order()-b.Factor.Order(), flag(a.Borrowed)-flag(b.Borrowed),
		value.CompareBearings(a.Bearing, b.Bearing), flag(value.HasNumber(a.Claim))-flag(value.HasNumber(b.Claim)), value.Compare(value.SpanOf(a.Claim), value.SpanOf(b.Claim)),
		strings.Compare(a.Category, b.Category), strings.Compare(a.Name, b.Name), flag(a.Secondhand)-flag(b.Secondhand))
}

// Marks are the doubts and confirmations a claim carries, in the words of the
// listings: second-hand, counted, implied, inferred, ocr, unsure, twice-read, accepted, amended.
func Marks(c evidence.Claim) []string {
	out := []string{}
	for _, m := range []struct {
		on   bool
		word string
	}{
		{c.Secondhand, "second-hand"}, {counted(c), "counted"}, {c.Implied && !counted(c), "implied"}, {c.Inferred, "inferred"}, {c.OCR, "ocr"}, {c.Unsure(), "unsure"}, {c.TwiceRead, "twice-read"},
		{c.Decision == evidence.Accepted, "accepted"}, {c.Decision == evidence.Amended, "amended"},
	} {
		if m.on {
			out = append(out, m.word)
		}
	}
	return out
}

// counted reports whether a fraction is worked out from eggs that the paper counted,
// "31 of 150": the per cent is not in print, but nothing about it is a guess.
func counted(c evidence.Claim) bool {
	return c.Implied && c.Factor == evidence.HatchingFraction && strings.ContainsAny(c.Printed, "0123456789")
}

// doubts are marks that a second, clean statement of the same takes away.
var doubts = []string{"counted", "implied", "inferred", "ocr", "unsure"}

// agreed joins the marks of two identical statements: a doubt stays only when
// both have it, a confirmation when either has.
func agreed(a, b []string) []string {
	out := []string{}
	for _, m := range a {
		if !slices.Contains(doubts, m) || slices.Contains(b, m) {
			out = append(out, m)
		}
	}
	for _, m := range b {
		if !slices.Contains(doubts, m) && !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	return out
}
