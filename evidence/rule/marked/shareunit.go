package marked

import (
	"strings"

	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/lexicon"
)

// shareUnits gives a number its unit where the text says the unit only with
// the condition that is set against it: "at 10 but not at 20 °C".
func (r *Text) shareUnits(s *Sentence, qs []quantity.Quantity) (out []quantity.Quantity) {
	for i := range qs {
		q := &qs[i]
		if len(q.Items) != 1 || q.Implied {
			continue
		}
		at := s.WordAt(q.Start + s.Block.Start)
		k := s.StepBack(at, r.Roles.Prep)
		neg := s.StepBack(k, r.Roles.Neg)
		if k == at || neg == k {
			continue
		}
		n := s.StepBack(neg, r.Roles.Contrast) - 1
		if n < 1 || s.Words[n].Fold[0] < '0' || s.Words[n].Fold[0] > '9' || s.StepBack(n, r.Roles.Prep) == n {
			continue
		}
		if twin, ok := twinOf(s, q, s.Words[n]); ok {
			out = append(out, twin)
		}
	}
	return out
}

// twinOf reads the number w in the unit of q.
func twinOf(s *Sentence, q *quantity.Quantity, w lexicon.Word) (quantity.Quantity, bool) {
	unit := strings.TrimLeft(q.Text, "0123456789.,·± ")
	number := s.Page.Text[w.Start:w.End]
	found := quantity.Find(number + " " + unit)
	if len(found) != 1 || found[0].Kind != q.Kind || found[0].Start != 0 || len(found[0].Items) != 1 {
		return quantity.Quantity{}, false
	}
	t := found[0]
	t.Text, t.Start, t.End, t.Guessed = number, w.Start-s.Block.Start, w.End-s.Block.Start, true
	t.Items[0].Start, t.Items[0].End = t.Start, t.End
	return t, true
}
