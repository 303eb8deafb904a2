package rule

import (
	"strings"

	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/lexicon"
)

// elided gives its unit to a bare number behind a preposition that repeats a
// level listed with its unit before: "chilled for 6, 8 or 10 weeks. ... 27 %
// hatched after 8, 55 % after 10".
func (r *reading) elided(s *sentence) {
	covered := make([]bool, len(s.words))
	for _, t := range s.targets {
		for i := t.from; i < t.to; i++ {
			covered[i] = true
		}
	}
	twins := map[int]bool{}
	for i, w := range s.words {
		if covered[i] || w.Fold[0] < '0' || w.Fold[0] > '9' {
			continue
		}
		and := r.stepBack(s, i, r.roles.Coord)
		joined := i - 1
		if and < i {
			joined = and - 1
		}
		listed := (and < i || w.Before&lexicon.AfterComma != 0) && joined >= 0 && twins[joined]
		if r.stepBack(s, i, r.roles.Prep) == i && !listed {
			continue
		}
		if level := r.levelPrinted(s, i, s.page.Text[w.Start:w.End]); level != nil {
			r.addTwin(s, level, i)
			twins[i] = true
		}
	}
}

// anaphors gives "at that temperature" the value of the temperature named last
// before it in the sentence.
func (r *reading) anaphors(s *sentence) {
	for _, g := range s.tags[:len(s.tags):len(s.tags)] {
		if !r.roles.ThatTemp.has(g.class) {
			continue
		}
		var last *target
		for _, t := range s.targets {
			if t.q != nil && t.kind == string(quantity.Temperature) && t.to <= g.from && (last == nil || t.from > last.from) {
				last = t
			}
		}
		if last == nil {
			continue
		}
		q := *last.q
		q.Guessed = true
		again := *last
		again.q, again.item, again.siblings, again.from, again.to, again.at = &q, 0, 1, g.from, g.to, g.from
		again.span = span{s.words[g.from].Start, s.words[g.to-1].End}
		s.tag(last.class, g.from, g.to)
		s.targets = append(s.targets, &again)
	}
}

// levelPrinted finds the listed level that prints as number, in s before word
// i or in one of the sentences before it.
func (r *reading) levelPrinted(s *sentence, i int, number string) *target {
	const back = 3
	search := func(o *sentence, until int) *target {
		for k := len(o.targets) - 1; k >= 0; k-- {
			t := o.targets[k]
			if t.q == nil || t.siblings < 2 || t.kind == "fraction" || t.from >= until {
				continue
			}
			printed := o.page.Text[t.start:t.end]
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
		k := len(r.sentences) - d
		if k < 0 || r.sentences[k].region != s.region {
			return nil
		}
		if t := search(r.sentences[k], len(r.sentences[k].words)); t != nil {
			return t
		}
	}
	return nil
}

// addTwin makes a target of the number at word i with the value of level.
func (r *reading) addTwin(s *sentence, level *target, i int) {
	w := s.words[i]
	q := quantity.Quantity{Kind: level.q.Kind, Unit: level.q.Unit, Text: s.page.Text[w.Start:w.End],
		Start: w.Start - s.block.Start, End: w.End - s.block.Start, Guessed: true}
	s.tag(level.class, i, i+1)
	s.targets = append(s.targets, &target{span: span{w.Start, w.End}, kind: level.kind, class: level.class, q: &q, siblings: 1,
		low: level.low, high: level.high, unit: level.unit, from: i, to: i + 1, at: i, broken: level.broken})
}
