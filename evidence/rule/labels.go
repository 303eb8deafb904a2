package rule

import (
	"slices"
	"strings"

	"hatchlore/evidence"
)

// coded gives the treatments of a text that labels its lots the outcome that it
// tells of a label later on: "groups A and B were chilled for 30 and 60 days ...
// A hatched to 12 %, B to 48 %".
func (r *reading) coded(found []*finding) {
	treated := map[string][]*finding{}
	region := -1
	for _, s := range r.sentences {
		if s.region != region {
			treated, region = map[string][]*finding{}, s.region
		}
		marks := r.labelsIn(s, treated)
		if len(marks) == 0 {
			continue
		}
		if !r.tellOfLabels(s, marks, treated) {
			r.labelTreatments(s, marks, found, treated)
		}
	}
}

// lotName is the name of a lot: "A" in "group A".
type lotName struct {
	name string
	at   int
	run  int // labels joined to each other share it
}

// labelsIn returns the labels of s in order: behind a word for a lot, joined to
// another label, or known already.
func (r *reading) labelsIn(s *sentence, known map[string][]*finding) (out []lotName) {
	for i := range s.words {
		name := s.page.Text[s.words[i].Start:s.words[i].End]
		if !isLabel(name) {
			continue
		}
		named := r.stepBack(s, i, r.roles.Batch) != i
		joined := len(out) > 0 && i-out[len(out)-1].at <= 2 && (s.words[i].Before != 0 || r.stepBack(s, i, r.roles.Coord) != i)
		recalled := len(known[name]) > 0 && (name != "A" && name != "I" || r.tagged(s, i+1, r.roles.Event)) && (i == 0 || s.words[i].Before != 0 || !isFigure(s, i-1))
		if named || joined || recalled {
			run := len(out)
			if joined {
				run = out[len(out)-1].run
			}
			out = append(out, lotName{name, i, run})
		}
	}
	return out
}

// isLabel reports whether a word is a capital letter, a small roman number or a
// figure of one digit.
func isLabel(w string) bool {
	switch {
	case len(w) == 1:
		return w[0] >= 'A' && w[0] <= 'Z' || w[0] >= '1' && w[0] <= '9'
	case len(w) <= 4:
		return strings.Trim(w, "IVX") == ""
	}
	return false
}

func isFigure(s *sentence, i int) bool {
	c := s.words[i].Fold[0]
	return c >= '0' && c <= '9'
}

// labelTreatments notes which treatment each label stands for: of a list as long
// as that of the labels the one in its place, else what follows the label.
func (r *reading) labelTreatments(s *sentence, marks []lotName, found []*finding, treated map[string][]*finding) {
	for _, f := range found {
		if f.s != s || f.factor == evidence.HatchingFraction || f.factor == evidence.TimeToHatch {
			continue
		}
		if list := runOf(marks, f.t.siblings); list != nil {
			name := list[f.t.item].name
			treated[name] = append(treated[name], f)
			continue
		}
		k := -1
		for i, m := range marks {
			if m.at < f.t.from && (k < 0 || s.clauseAt(m.at) == f.t.clause || s.clauseAt(marks[k].at) != f.t.clause) {
				k = i
			}
		}
		if k >= 0 && f.t.siblings == 1 {
			treated[marks[k].name] = append(treated[marks[k].name], f)
		}
	}
}

// runOf returns the first run of n labels, nil where there is none or n is 1.
func runOf(marks []lotName, n int) []lotName {
	for i := range marks {
		j := i
		for j < len(marks) && marks[j].run == marks[i].run {
			j++
		}
		if n > 1 && j-i == n && (i == 0 || marks[i-1].run != marks[i].run) {
			return marks[i:j]
		}
	}
	return nil
}

// tellOfLabels gives the treatments of known labels what the clause of each says;
// it reports whether any clause said something.
func (r *reading) tellOfLabels(s *sentence, marks []lotName, treated map[string][]*finding) (told bool) {
	for _, m := range marks {
		c := s.clauses[s.clauseAt(m.at)]
		if c.bears != evidence.Favours && c.bears != evidence.Prevents || len(treated[m.name]) == 0 {
			continue
		}
		told = true
		for _, f := range treated[m.name] {
			if f.s != s && (f.bearing == evidence.Reported || f.context) {
				f.bearing = c.bears
			}
		}
	}
	return told && slices.ContainsFunc(marks, func(m lotName) bool { return len(treated[m.name]) > 0 })
}
