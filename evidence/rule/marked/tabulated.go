package marked

import (
	"strings"

	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/lexicon"
)

// tabulated reads the numbers of a table told as text as shares: a level, a
// colon and a bare number, where the sentence before names the share with its
// sign ("Hatch (%) after 10 days. pH 5: 12; pH 6: 47").
func (r *Text) tabulated(s *Sentence) {
	share, ok := r.Classes["fraction"]
	if !ok || !r.sharesAnnounced(s) {
		return
	}
	for _, level := range s.Targets {
		if level.Q == nil || level.Kind == "fraction" || level.To >= len(s.Words) {
			continue
		}
		i := level.To
		w := s.Words[i]
		if w.Before&lexicon.AfterColon == 0 || !s.bareNumber(i) {
			continue
		}
		found := quantity.Find(s.Page.Text[w.Start:w.End] + " %")
		if len(found) != 1 || len(found[0].Items) != 1 || found[0].Items[0].High == nil || *found[0].Items[0].High > 100 {
			continue
		}
		q := found[0]
		q.Text, q.Start, q.End, q.Guessed = s.Page.Text[w.Start:w.End], w.Start-s.Block.Start, w.End-s.Block.Start, true
		q.Items[0].Start, q.Items[0].End = q.Start, q.End
		s.tag(share, i, i+1)
		s.Targets = append(s.Targets, &Target{Span: Span{w.Start, w.End}, Kind: "fraction", Class: share, Q: &q, Siblings: 1,
			Low: q.Items[0].Low, High: q.Items[0].High, Unit: "%", From: i, To: i + 1, At: i})
	}
}

// bareNumber reports whether word i is a number with nothing but the end of
// its cell behind it.
func (s *Sentence) bareNumber(i int) bool {
	c := s.Words[i].Fold[0]
	return c >= '0' && c <= '9' && (i+1 == len(s.Words) || s.Words[i+1].Before != 0)
}

// sharesAnnounced reports whether s or the sentence before it, of the same
// region, has the sign of shares in brackets and is about hatching.
func (r *Text) sharesAnnounced(s *Sentence) bool {
	said := func(o *Sentence) bool {
		return o.Has.Meets(r.Roles.Hatch) && strings.Contains(o.Text(), "(%)")
	}
	if said(s) {
		return true
	}
	before := r.Beside(s, -1)
	return before != nil && said(before)
}
