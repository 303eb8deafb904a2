package rule

import (
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/marked"
)

// coded gives the treatments of a text that labels its lots the outcome that it
// tells of a label later on: "groups A and B were chilled for 30 and 60 days ...
// A hatched to 12 %, B to 48 %".
func (r *reading) coded(found []*finding) {
	treated := map[string][]*finding{}
	region := -1
	for _, s := range r.Sentences {
		if s.Region != region {
			treated, region = map[string][]*finding{}, s.Region
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
func (r *reading) labelsIn(s *marked.Sentence, known map[string][]*finding) (out []lotName) {
	for i := range s.Words {
		name := s.Page.Text[s.Words[i].Start:s.Words[i].End]
		if !isLabel(name) {
			continue
		}
		named := s.StepBack(i, r.Roles.Batch) != i
		joined := len(out) > 0 && i-out[len(out)-1].at <= 2 && (s.Words[i].Before != 0 || s.StepBack(i, r.Roles.Coord) != i)
		recalled := len(known[name]) > 0 && (name != "A" && name != "I" || s.Tagged(i+1, r.Roles.Event)) && (i == 0 || s.Words[i].Before != 0 || !isFigure(s, i-1))
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

func isFigure(s *marked.Sentence, i int) bool {
	c := s.Words[i].Fold[0]
	return c >= '0' && c <= '9'
}

// labelTreatments notes which treatment each label stands for: of a list as long
// as that of the labels the one in its place, else what follows the label.
func (r *reading) labelTreatments(s *marked.Sentence, marks []lotName, found []*finding, treated map[string][]*finding) {
	for _, f := range found {
		if f.s != s || f.factor == evidence.HatchingFraction || f.factor == evidence.TimeToHatch {
			continue
		}
		if list := runOf(marks, f.t.Siblings); list != nil {
			name := list[f.t.Item].name
			treated[name] = append(treated[name], f)
			continue
		}
		k := -1
		for i, m := range marks {
			if m.at < f.t.From && (k < 0 || s.ClauseAt(m.at) == f.t.Clause || s.ClauseAt(marks[k].at) != f.t.Clause) {
				k = i
			}
		}
		if k >= 0 && f.t.Siblings == 1 {
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
func (r *reading) tellOfLabels(s *marked.Sentence, marks []lotName, treated map[string][]*finding) (told bool) {
	for _, m := range marks {
		c := s.Clauses[s.ClauseAt(m.at)]
		if c.Bears != evidence.Favours && c.Bears != evidence.Prevents || len(treated[m.name]) == 0 {
			continue
		}
		told = true
		for _, f := range treated[m.name] {
			if f.s != s && (f.bearing == evidence.Reported || f.context) {
				f.bearing = c.Bears
			}
		}
	}
	return told && slices.ContainsFunc(marks, func(m lotName) bool { return len(treated[m.name]) > 0 })
}
