package rule

import (
	"strings"

	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/lexicon"
)

// tabulated reads the numbers of a table told as text as shares: a level, a
// colon and a bare number, where the sentence before names the share with its
// sign ("Hatch (%) after 10 days. pH 5: 12; pH 6: 47").
func (r *reading) tabulated(s *sentence) {
	share, ok := r.classes["fraction"]
	if !ok || !r.sharesAnnounced(s) {
		return
	}
	for _, level := range s.targets {
		if level.q == nil || level.kind == "fraction" || level.to >= len(s.words) {
			continue
		}
		i := level.to
		w := s.words[i]
		if w.Before&lexicon.AfterColon == 0 || !s.bareNumber(i) {
			continue
		}
		found := quantity.Find(s.page.Text[w.Start:w.End] + " %")
		if len(found) != 1 || len(found[0].Items) != 1 || found[0].Items[0].High == nil || *found[0].Items[0].High > 100 {
			continue
		}
		q := found[0]
		q.Text, q.Start, q.End, q.Guessed = s.page.Text[w.Start:w.End], w.Start-s.block.Start, w.End-s.block.Start, true
		q.Items[0].Start, q.Items[0].End = q.Start, q.End
		s.tag(share, i, i+1)
		s.targets = append(s.targets, &target{span: span{w.Start, w.End}, kind: "fraction", class: share, q: &q, siblings: 1,
			low: q.Items[0].Low, high: q.Items[0].High, unit: "%", from: i, to: i + 1, at: i})
	}
}

// bareNumber reports whether word i is a number with nothing but the end of
// its cell behind it.
func (s *sentence) bareNumber(i int) bool {
	c := s.words[i].Fold[0]
	return c >= '0' && c <= '9' && (i+1 == len(s.words) || s.words[i+1].Before != 0)
}

// sharesAnnounced reports whether s or the sentence before it, of the same
// region, has the sign of shares in brackets and is about hatching.
func (r *reading) sharesAnnounced(s *sentence) bool {
	said := func(o *sentence) bool {
		return o.has.meets(r.roles.Hatch) && strings.Contains(o.text(), "(%)")
	}
	if said(s) {
		return true
	}
	n := len(r.sentences)
	return n > 0 && r.sentences[n-1].region == s.region && said(r.sentences[n-1])
}
