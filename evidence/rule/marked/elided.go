package marked

import (
	"strings"

	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/lexicon"
)

// elided gives its unit to a bare number behind a preposition that repeats a
// level listed with its unit before: "chilled for 6, 8 or 10 weeks. ... 27 %
// hatched after 8, 55 % after 10".
func (r *Text) elided(s *Sentence) {
	covered := make([]bool, len(s.Words))
	for _, t := range s.Targets {
		for i := t.From; i < t.To; i++ {
			covered[i] = true
		}
	}
	twins := map[int]bool{}
	for i, w := range s.Words {
		if covered[i] || w.Fold[0] < '0' || w.Fold[0] > '9' {
			continue
		}
		and := s.StepBack(i, r.Roles.Coord)
		joined := i - 1
		if and < i {
			joined = and - 1
		}
		listed := (and < i || w.Before&lexicon.AfterComma != 0) && joined >= 0 && twins[joined]
		if s.StepBack(i, r.Roles.Prep) == i && !listed {
			continue
		}
		if level := r.levelPrinted(s, i, s.Page.Text[w.Start:w.End]); level != nil {
			r.addTwin(s, level, i)
			twins[i] = true
		}
	}
}

// anaphors gives "at that temperature" the value of the temperature named last
// before it in the sentence.
func (r *Text) anaphors(s *Sentence) {
	for _, g := range s.Tags[:len(s.Tags):len(s.Tags)] {
		if !r.Roles.ThatTemp.Has(g.Class) {
			continue
		}
		var last *Target
		for _, t := range s.Targets {
			if t.Q != nil && t.Kind == string(quantity.Temperature) && t.To <= g.From && (last == nil || t.From > last.From) {
				last = t
			}
		}
		if last == nil {
			continue
		}
		q := *last.Q
		q.Guessed = true
		again := *last
		again.Q, again.Item, again.Siblings, again.From, again.To, again.At = &q, 0, 1, g.From, g.To, g.From
		again.Span = Span{s.Words[g.From].Start, s.Words[g.To-1].End}
		s.tag(last.Class, g.From, g.To)
		s.Targets = append(s.Targets, &again)
	}
}

// levelPrinted finds the listed level that prints as number, in s before word
// i or in one of the sentences before it.
func (r *Text) levelPrinted(s *Sentence, i int, number string) *Target {
	const back = 3
	search := func(o *Sentence, until int) *Target {
		for k := len(o.Targets) - 1; k >= 0; k-- {
			t := o.Targets[k]
			if t.Q == nil || t.Siblings < 2 || t.Kind == "fraction" || t.From >= until {
				continue
			}
			printed := o.Page.Text[t.Start:t.End]
			if rest, ok := strings.CutPrefix(printed, number); ok && (rest == "" || rest[0] < '0' || rest[0] > '9') && !strings.ContainsAny(rest, "0123456789") {
				return t
			}
		}
		return nil
	}
	if t := search(s, i); t != nil {
		return t
	}
	for d := 1; d <= back; d++ {
		o := r.Beside(s, -d)
		if o == nil {
			return nil
		}
		if t := search(o, len(o.Words)); t != nil {
			return t
		}
	}
	return nil
}

// addTwin makes a target of the number at word i with the value of level.
func (r *Text) addTwin(s *Sentence, level *Target, i int) {
	w := s.Words[i]
	q := quantity.Quantity{Kind: level.Q.Kind, Unit: level.Q.Unit, Text: s.Page.Text[w.Start:w.End],
		Start: w.Start - s.Block.Start, End: w.End - s.Block.Start, Guessed: true}
	s.tag(level.Class, i, i+1)
	s.Targets = append(s.Targets, &Target{Span: Span{w.Start, w.End}, Kind: level.Kind, Class: level.Class, Q: &q, Siblings: 1,
		Low: level.Low, High: level.High, Unit: level.Unit, From: i, To: i + 1, At: i, Broken: level.Broken})
}
