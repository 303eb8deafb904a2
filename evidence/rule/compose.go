package rule

// compose marks hatching where the text tells it in two words that mean it
// only together: young that appear ("the first larvae were seen swimming"),
// eggs that open or answer ("eggs, brought indoors, opened").
func (r *reading) compose(s *sentence) {
	hatch, ok := r.classes["hatch"]
	if !ok {
		return
	}
	ro := r.roles
	r.itBegan(s, hatch)
	r.theyCame(s, hatch)
	if !s.has.meets(ro.Comes) && !s.has.meets(ro.Opens) && !s.has.meets(ro.First) || !r.topicNear(s) && !r.wettedBefore(s) {
		return
	}
	for _, y := range s.tags[:len(s.tags):len(s.tags)] { // "the first nauplii", whatever they do
		if ro.Larva.has(y.class) && r.stepBack(s, y.from, ro.First) != y.from && !s.overlapsTag(y, ro.Hatch) {
			s.tag(hatch, r.stepBack(s, y.from, ro.First), y.to)
		}
	}
	for _, c := range s.tags[:len(s.tags):len(s.tags)] {
		switch {
		case ro.Comes.has(c.class):
			if y, ok := r.youngBeside(s, c); ok {
				s.tag(hatch, min(c.from, y.from), max(c.to, y.to))
			}
		case ro.Opens.has(c.class) && r.eggsSpokenOf(s) && !s.overlapsTag(c, ro.Hatch):
			s.tag(hatch, c.from, c.to)
		}
	}
}

// itBegan marks "it began", where hatching is what was spoken of last: in the
// sentence, or in the one before.
func (r *reading) itBegan(s *sentence, hatch int) {
	ro := r.roles
	if !s.has.meets(ro.Begins) || !s.has.meets(ro.ItWord) {
		return
	}
	for _, b := range s.tags[:len(s.tags):len(s.tags)] {
		it := r.stepBack(s, b.from, ro.ItWord)
		if !ro.Begins.has(b.class) || it == b.from {
			continue
		}
		last := len(r.sentences) - 1
		if r.between(s, 0, it, ro.Hatch) || it <= 2 && last >= 0 && r.sentences[last].region == s.region && r.sentences[last].has.meets(ro.Hatch) {
			s.tag(hatch, it, b.to)
		}
	}
}

// theyCame marks "they were seen", where newborn young were spoken of in the
// sentence before.
func (r *reading) theyCame(s *sentence, hatch int) {
	const opening, apart = 2, 6
	n := len(r.sentences)
	if n == 0 || r.sentences[n-1].region != s.region || !r.sentences[n-1].has.meets(r.roles.Newborn) || s.has.meets(r.roles.Animal) || s.has.meets(r.roles.Newborn) {
		return
	}
	for _, g := range s.tags[:len(s.tags):len(s.tags)] {
		if r.roles.Comes.has(g.class) && g.from <= apart && r.between(s, 0, opening, r.roles.They) && !s.overlapsTag(g, r.roles.Hatch) {
			s.tag(hatch, g.from, g.to)
			return
		}
	}
}

// topicNear reports whether eggs are spoken of in s, in the title or heading
// or in the sentences so far that belong to the same block.
func (r *reading) topicNear(s *sentence) bool {
	topic := r.roles.Topic
	if s.has.meets(topic) || r.title.meets(topic) || s.head.meets(topic) {
		return true
	}
	for k := len(r.sentences) - 1; k >= 0 && len(r.sentences)-k <= reach; k-- {
		if r.sentences[k].region == s.region && r.sentences[k].has.meets(topic) {
			return true
		}
	}
	return false
}

// wettedBefore reports whether newborn young are told of right behind what was
// wetted or incubated: they came of eggs, whether the text says so or not.
func (r *reading) wettedBefore(s *sentence) bool {
	if !s.has.meets(r.roles.Newborn) {
		return false
	}
	for _, y := range s.tags {
		if r.roles.Newborn.has(y.class) && r.between(s, 0, y.from, r.roles.Rainy) {
			return true
		}
	}
	n := len(r.sentences)
	return n > 0 && r.sentences[n-1].region == s.region && r.sentences[n-1].has.meets(r.roles.Wetted)
}

// youngBeside finds the word for young that the verb c belongs to: a few words
// off, with no comma and no other kind of life in between.
func (r *reading) youngBeside(s *sentence, c tag) (tag, bool) {
	const apart = 9
	for _, y := range s.tags {
		if !r.roles.Larva.has(y.class) {
			continue
		}
		lo, hi := y.to, c.from
		if c.to <= y.from {
			lo, hi = c.to, y.from
		}
		if hi-lo < 0 || hi-lo > apart || s.broken(lo, hi) || r.between(s, lo, hi, r.roles.Animal) || r.between(s, lo, hi, r.roles.Contrast) || s.overlapsTag(y, r.roles.PostHatch) {
			continue
		}
		return y, true
	}
	return tag{}, false
}

// eggsSpokenOf reports whether s, or the sentence before it where s has a
// pronoun or a share only, is about eggs.
func (r *reading) eggsSpokenOf(s *sentence) bool {
	ro := r.roles
	if s.has.meets(ro.Egg) {
		return true
	}
	if s.has.meets(ro.Animal) || len(r.sentences) == 0 {
		return false
	}
	last := r.sentences[len(r.sentences)-1]
	return last.region == s.region && last.has.meets(ro.Topic)
}

// broken reports whether punctuation parts the words [from, to].
func (s *sentence) broken(from, to int) bool {
	for i := from; i <= to && i < len(s.words); i++ {
		if s.words[i].Before != 0 {
			return true
		}
	}
	return false
}

func (s *sentence) overlapsTag(t tag, b bits) bool {
	for _, g := range s.tags {
		if b.has(g.class) && g.from < t.to && t.from < g.to {
			return true
		}
	}
	return false
}
