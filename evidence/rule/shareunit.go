package rule

import (
	"strings"

	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/lexicon"
)

// shareUnits gives a number its unit where the text says the unit only with
// the condition that is set against it: "at 10 but not at 20 °C".
func (r *reading) shareUnits(s *sentence, qs []quantity.Quantity) (out []quantity.Quantity) {
	for i := range qs {
		q := &qs[i]
		if len(q.Items) != 1 || q.Implied {
			continue
		}
		at := s.wordAt(q.Start + s.block.Start)
		k := r.stepBack(s, at, r.roles.Prep)
		neg := r.stepBack(s, k, r.roles.Neg)
		if k == at || neg == k {
			continue
		}
		n := r.stepBack(s, neg, r.roles.Contrast) - 1
		if n < 1 || s.words[n].Fold[0] < '0' || s.words[n].Fold[0] > '9' || r.stepBack(s, n, r.roles.Prep) == n {
			continue
		}
		if twin, ok := twinOf(s, q, s.words[n]); ok {
			out = append(out, twin)
		}
	}
	return out
}

// stepBack returns the word at which cues of the classes that end at word i
// begin; i when there is none.
func (r *reading) stepBack(s *sentence, i int, b bits) int {
	for _, g := range s.tags {
		if g.to == i && b.has(g.class) {
			return g.from
		}
	}
	return i
}

// twinOf reads the number w in the unit of q.
func twinOf(s *sentence, q *quantity.Quantity, w lexicon.Word) (quantity.Quantity, bool) {
	unit := strings.TrimLeft(q.Text, "0123456789.,·± ")
	number := s.page.Text[w.Start:w.End]
	found := quantity.Find(number + " " + unit)
	if len(found) != 1 || found[0].Kind != q.Kind || found[0].Start != 0 || len(found[0].Items) != 1 {
		return quantity.Quantity{}, false
	}
	t := found[0]
	t.Text, t.Start, t.End, t.Guessed = number, w.Start-s.block.Start, w.End-s.block.Start, true
	t.Items[0].Start, t.Items[0].End = t.Start, t.End
	return t, true
}
