package marked

import (
	"math"
	"slices"
	"strings"

	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/lexicon"
	"hatchlore/ingest"
)

// addQuantity makes a target of each value of q.
func (r *Text) addQuantity(s *Sentence, q *quantity.Quantity) {
	if q.Kind == quantity.Photoperiod {
		r.addPhotoperiod(s, q)
		return
	}
	if q.Kind == quantity.Count {
		r.countYoung(s, q)
		return
	}
	if r.dissolved(s, q) {
		oxygen := *q
		oxygen.Kind = quantity.Oxygen
		q = &oxygen
	}
	class, ok := r.Classes[string(q.Kind)]
	if !ok {
		return
	}
	items, unit, err := q.Canonical()
	start, end := q.Start+s.Block.Start, q.End+s.Block.Start
	if q.Of != nil && !strings.ContainsAny(q.Text, "%‰") && !strings.Contains(q.Text, "percent") {
		counted := *q // "23 of 40 eggs": the text does not print the share
		counted.Implied = true
		q = &counted
	}
	if q.Implied && r.absent(s, start, end) {
		return
	}
	if err != nil || q.Difference || uncertain(s.Page.Text, start, q) || s.converts(start, q, items) {
		return
	}
	from, to := s.WordAt(start), s.WordAt(end)
	if to < len(s.Words) && s.Words[to].Start < end {
		to++
	}
	kind := string(q.Kind)
	items = slices.Clone(items)
	if c, k, u := r.asLevels(s, q, items, from); k != "" {
		class, kind, unit = c, k, quantity.Unit(u)
	}
	r.bounded(s, q, items, from, to)
	items = r.change(s, q, items, from)
	s.tag(class, from, to)
	r.tagSize(s, q, items, from, to)
	for i, it := range items {
		if it.Low == nil && it.High == nil {
			continue
		}
		sp := Span{it.Start + s.Block.Start, it.End + s.Block.Start}
		s.Targets = append(s.Targets, &Target{Span: sp, Kind: kind, Class: class, Q: q, Item: i, Siblings: len(items),
			Low: it.Low, High: it.High, Unit: string(unit), From: from, To: to, At: s.WordAt(sp.Start),
			Broken: s.Page.Marked(ingest.Untrusted, start, end)})
	}
}

// joinSeries makes one list of values that are listed with a unit each: "12.4%,
// 47.9% and 31.0%". Where fewer than three stand side by side they may be told of
// different things.
func (r *Text) joinSeries(s *Sentence) {
	const least = 3
	for _, t := range s.Targets {
		t.Series = t.From
	}
	for i := 0; i < len(s.Targets); {
		k := i + 1
		for k < len(s.Targets) && r.goesOn(s, s.Targets[k-1], s.Targets[k]) {
			k++
		}
		if run := s.Targets[i:k]; len(run) >= least && len(run) > run[0].Siblings {
			for n, t := range run {
				t.Item, t.Siblings, t.Series = n, len(run), run[0].From
			}
		}
		i = k
	}
}

// goesOn reports whether o goes on with the list that t stands in: it is a value of
// its kind with a comma or a conjunction before it.
func (r *Text) goesOn(s *Sentence, t, o *Target) bool {
	if t.Q == nil || o.Q == nil || t.Class != o.Class || t.Q.Ordinal != o.Q.Ordinal {
		return false
	}
	if t.Q == o.Q {
		return true
	}
	and := s.StepBack(o.From, r.Roles.Coord)
	return and == t.To && (and != o.From || s.Words[o.From].Before == lexicon.AfterComma)
}

// absent reports whether a word that denies stands right before bytes [i, end), or
// one that leaves out right beside them: "without any refrigerator", "skipped the
// fridge" and "the fridge was left out" name no temperature.
func (r *Text) absent(s *Sentence, i, end int) bool {
	const near = 2
	at, behind := s.WordAt(i), s.WordAt(end)
	void := r.Classes[lexicon.Void]
	return slices.ContainsFunc(s.Tags, func(g Tag) bool {
		if r.Roles.Omitted.Has(g.Class) && (g.To <= at && at-g.To < near || g.From >= behind && g.From-behind < near) {
			return true
		}
		return (r.Roles.Without.Has(g.Class) || r.Roles.Neg.Has(g.Class)) && g.To <= at && at-g.To < near || g.Class == void && g.From < at && at < g.To
	})
}

// printed drops words that hide a number, but marks them, where the sentence prints
// the number right behind: "in the refrigerator (3 °C)"; of a water, anywhere behind: "mixed with
// distilled water to 140 µS/cm".
func (r *Text) printed(s *Sentence, qs []quantity.Quantity) []quantity.Quantity {
	const near = 3
	var out []quantity.Quantity
	for _, q := range qs {
		behind := s.WordAt(q.End + s.Block.Start)
		if q.Implied && slices.ContainsFunc(qs, func(o quantity.Quantity) bool {
			at := s.WordAt(o.Start + s.Block.Start)
			return o.Kind == q.Kind && !o.Implied && !o.Difference && o.Start >= q.End && (at-behind < near || q.Kind == quantity.Conductivity)
		}) {
			s.tag(r.Classes[string(q.Kind)], s.WordAt(q.Start+s.Block.Start), behind)
			continue
		}
		out = append(out, q)
	}
	return out
}

// countYoung marks a number of young that were seen: eggs have hatched.
func (r *Text) countYoung(s *Sentence, q *quantity.Quantity) {
	if q.Unit != quantity.Larvae || len(q.Items) == 0 || q.Items[0].Low == nil || *q.Items[0].Low <= 0 || s.Has.Meets(r.Roles.Life) {
		return
	}
	from := s.WordAt(q.Start + s.Block.Start)
	s.tag(r.Classes["youngcount"], from, max(from+1, s.WordAt(q.End+s.Block.Start)))
}

// HardlyAnyShare is the share (%) up to which next to nothing hatched, our own
// judgement.
const HardlyAnyShare = 2

// tagSize marks shares of next to nothing, and temperatures and durations by their size: those at which, and
// for which, eggs are held rather than incubated.
func (r *Text) tagSize(s *Sentence, q *quantity.Quantity, items []quantity.Item, from, to int) {
	const (
		cool = 10 // °C, at which eggs may be held moist, our own judgement
		cold = 7  // °C, common practice: refrigerators and cold rooms
		long = 14 // d, common practice: few eggs take longer from wetting
	)
	all := func(holds func(quantity.Item) bool) bool {
		return !slices.ContainsFunc(items, func(it quantity.Item) bool { return !holds(it) })
	}
	if len(items) == 1 && items[0].Low != nil && items[0].High != nil && *items[0].Low < *items[0].High {
		s.tag(r.Classes["span"], from, to)
	}
	switch q.Kind {
	case quantity.Fraction:
		if all(func(it quantity.Item) bool { return it.High != nil && *it.High > 0 && *it.High <= HardlyAnyShare }) {
			s.tag(r.Classes["hardlyany"], from, to)
		}
	case quantity.Temperature:
		if all(func(it quantity.Item) bool { return it.High != nil && *it.High <= 0 }) {
			s.tag(r.Classes["frost"], from, to)
		} else if all(func(it quantity.Item) bool { return it.High != nil && *it.High <= cold }) {
			s.tag(r.Classes["coldness"], from, to)
		}
		if all(func(it quantity.Item) bool { return it.High != nil && *it.High > 0 && *it.High <= cool }) {
			s.tag(r.Classes["coolness"], from, to)
		}
	case quantity.Duration:
		if q.Ordinal {
			s.tag(r.Classes["moment"], from, to)
		}
		inTime := s.StepBack(from, r.Roles.InsideOf) != from || s.StepBack(from, r.Roles.InWord) != from && s.Has.Meets(r.Roles.Hatch)
		if !inTime && slices.ContainsFunc(items, func(it quantity.Item) bool {
			return it.Low != nil && *it.Low >= long || it.High != nil && *it.High >= long
		}) {
			s.tag(r.Classes["weeks"], from, to)
		}
	}
}

// uncertain reports whether a number should not be read as the quantity that
// it was guessed to be: a test statistic behind a sign, or a number word
// without a unit.
func uncertain(text string, start int, q *quantity.Quantity) bool {
	before := strings.TrimRight(text[max(0, start-4):start], " ")
	if n := len(before); n > 1 && before[n-1] == ':' && before[n-2] >= '0' && before[n-2] <= '9' {
		return true // the second half of a ratio
	}
	if !q.Guessed || q.Kind == quantity.Duration {
		return false
	}
	return strings.HasSuffix(before, "=") || strings.HasSuffix(before, "<") || strings.HasSuffix(before, ">") ||
		!strings.ContainsAny(q.Text, "0123456789") || strings.ContainsAny(q.Text, "<>=")
}

// converts reports whether q says the value before it again in another unit,
// as "(39 °F)" behind "4 °C" does.
func (s *Sentence) converts(start int, q *quantity.Quantity, items []quantity.Item) bool {
	if len(s.Targets) == 0 {
		return false
	}
	last := s.Targets[len(s.Targets)-1]
	if last.Q == nil || last.Q.Implied || last.Q.Kind != q.Kind || last.Q.Unit == q.Unit {
		return false
	}
	gap := s.Page.Text[min(last.Q.End+s.Block.Start, start):start]
	if len(gap) > 14 || strings.ContainsAny(gap, ".;") {
		return false
	}
	near := func(a, b *float64) bool { return a == nil || b == nil || math.Abs(*a-*b) <= 1+0.05*math.Abs(*a) }
	return near(last.Low, items[0].Low) && near(last.High, items[0].High)
}

// addPhotoperiod makes one target of a photoperiod, or one of each of several.
func (r *Text) addPhotoperiod(s *Sentence, q *quantity.Quantity) {
	class := r.Classes[string(q.Kind)]
	start, end := q.Start+s.Block.Start, q.End+s.Block.Start
	from, to := s.WordAt(start), s.WordAt(end)
	if to < len(s.Words) && s.Words[to].Start < end {
		to++
	}
	s.tag(class, from, to)
	days := dayLengths(q)
	for i, one := range days {
		s.Targets = append(s.Targets, &Target{Span: Span{start, end}, Kind: string(q.Kind), Class: class, Q: one, Item: i, Siblings: len(days),
			From: from, To: to, At: from, Broken: s.Page.Marked(ingest.Untrusted, start, end)})
	}
}

// dayLengths parts several day lengths ("8, 12 and 16 h of light") from each
// other; hours of light and of dark are one.
func dayLengths(q *quantity.Quantity) []*quantity.Quantity {
	if len(q.Items) < 3 || slices.ContainsFunc(q.Items, func(it quantity.Item) bool { return it.Low == nil || it.High == nil }) {
		return []*quantity.Quantity{q}
	}
	var out []*quantity.Quantity
	for _, it := range q.Items {
		one := *q
		one.Items = []quantity.Item{it}
		out = append(out, &one)
	}
	return out
}
