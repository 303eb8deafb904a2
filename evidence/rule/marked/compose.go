package marked

import "slices"

// compose marks hatching where the text tells it in two words that mean it
// only together: young that appear ("the first larvae were seen swimming"),
// eggs that open or answer ("eggs, brought indoors, opened").
func (r *Text) compose(s *Sentence) {
	hatch, ok := r.Classes["hatch"]
	if !ok {
		return
	}
	ro := r.Roles
	r.itBegan(s, hatch)
	r.gaveNamed(s, hatch)
	r.theyCame(s, hatch)
	if !s.Has.Meets(ro.Comes) && !s.Has.Meets(ro.Opens) && !s.Has.Meets(ro.First) || !r.topicNear(s) && !r.wettedBefore(s) {
		return
	}
	for _, y := range s.Tags[:len(s.Tags):len(s.Tags)] { // "the first nauplii", whatever they do
		if ro.Larva.Has(y.Class) && s.StepBack(y.From, ro.First) != y.From && !s.OverlapsTag(y, ro.Hatch) {
			s.tag(hatch, s.StepBack(y.From, ro.First), y.To)
		}
	}
	for _, c := range s.Tags[:len(s.Tags):len(s.Tags)] {
		switch {
		case ro.Comes.Has(c.Class):
			if y, ok := r.youngBeside(s, c); ok {
				s.tag(hatch, min(c.From, y.From), max(c.To, y.To))
			}
		case ro.Opens.Has(c.Class) && r.eggsSpokenOf(s) && !s.OverlapsTag(c, ro.Hatch):
			s.tag(hatch, c.From, c.To)
		}
	}
}

// itBegan marks "it began", where hatching is what was spoken of last: in the
// sentence, or in the one before.
func (r *Text) itBegan(s *Sentence, hatch int) {
	ro := r.Roles
	if !s.Has.Meets(ro.Begins) || !s.Has.Meets(ro.ItWord) {
		return
	}
	for _, b := range s.Tags[:len(s.Tags):len(s.Tags)] {
		it := s.StepBack(b.From, ro.ItWord)
		if !ro.Begins.Has(b.Class) || it == b.From {
			continue
		}
		if s.Between(0, it, ro.Hatch) || it <= 2 && r.Neighbour(s, -1).Meets(ro.Hatch) {
			s.tag(hatch, it, b.To)
		}
	}
}

// gaveNamed marks "gave NAME" where mud or the like was wetted: the animals that it
// gave hatched.
func (r *Text) gaveNamed(s *Sentence, hatch int) {
	const apart = 1
	if !s.Has.Meets(r.Roles.Wetted) && !r.Neighbour(s, -1).Meets(r.Roles.Wetted) || s.Has.Meets(r.Roles.Animal) {
		return
	}
	for _, g := range s.Tags[:len(s.Tags):len(s.Tags)] {
		if r.Roles.Gave.Has(g.Class) && slices.ContainsFunc(s.Names, func(n *NameList) bool { return n.From >= g.To && n.From-g.To <= apart }) && !s.OverlapsTag(g, r.Roles.Hatch) {
			s.tag(hatch, g.From, g.To)
		}
	}
}

// theyCame marks "they were seen", where newborn young were spoken of in the
// sentence before.
func (r *Text) theyCame(s *Sentence, hatch int) {
	const opening, apart = 2, 6
	if !r.Neighbour(s, -1).Meets(r.Roles.Newborn) || s.Has.Meets(r.Roles.Animal) || s.Has.Meets(r.Roles.Newborn) {
		return
	}
	for _, g := range s.Tags[:len(s.Tags):len(s.Tags)] {
		if r.Roles.Comes.Has(g.Class) && g.From <= apart && s.Between(0, opening, r.Roles.They) && !s.OverlapsTag(g, r.Roles.Hatch) {
			s.tag(hatch, g.From, g.To)
			return
		}
	}
}

// topicNear reports whether eggs are spoken of in s, in the title or heading
// or in the sentences so far that belong to the same block.
func (r *Text) topicNear(s *Sentence) bool {
	topic := r.Roles.Topic
	if s.Has.Meets(topic) || r.Title.Meets(topic) || s.Head.Meets(topic) {
		return true
	}
	for d := 1; d <= Reach; d++ {
		if r.Neighbour(s, -d).Meets(topic) {
			return true
		}
	}
	return false
}

// wettedBefore reports whether newborn young are told of right behind what was
// wetted or incubated: they came of eggs, whether the text says so or not.
func (r *Text) wettedBefore(s *Sentence) bool {
	if !s.Has.Meets(r.Roles.Newborn) {
		return false
	}
	for _, y := range s.Tags {
		if r.Roles.Newborn.Has(y.Class) && s.Between(0, y.From, r.Roles.Rainy) {
			return true
		}
	}
	return r.Neighbour(s, -1).Meets(r.Roles.Wetted)
}

// youngBeside finds the word for young that the verb c belongs to: a few words
// off, with no comma and no other kind of life in between.
func (r *Text) youngBeside(s *Sentence, c Tag) (Tag, bool) {
	const apart = 9
	for _, y := range s.Tags {
		if !r.Roles.Larva.Has(y.Class) {
			continue
		}
		lo, hi := y.To, c.From
		if c.To <= y.From {
			lo, hi = c.To, y.From
		}
		if hi-lo < 0 || hi-lo > apart || s.broken(lo, hi) || s.Between(lo, hi, r.Roles.Animal) || s.Between(lo, hi, r.Roles.Contrast) || s.OverlapsTag(y, r.Roles.PostHatch) {
			continue
		}
		return y, true
	}
	return Tag{}, false
}

// eggsSpokenOf reports whether s, or the sentence before it where s has a
// pronoun or a share only, is about eggs.
func (r *Text) eggsSpokenOf(s *Sentence) bool {
	ro := r.Roles
	if s.Has.Meets(ro.Egg) {
		return true
	}
	return !s.Has.Meets(ro.Animal) && r.Neighbour(s, -1).Meets(ro.Topic)
}
