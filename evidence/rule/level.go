package rule

import "hatchlore/evidence"

// firstLevels gives the first levels of a list their outcome when a sentence
// shortly after speaks of them by their order only ("at the first three
// levels 41 % hatched").
func (r *reading) firstLevels(found []*finding) {
	counts := []bits{2: r.set.roles.firsttwo, 3: r.set.roles.firstthree, 4: r.set.roles.firstfour}
	for _, s := range r.sentences {
		if !s.has.meets(counts[2]) && !s.has.meets(counts[3]) && !s.has.meets(counts[4]) {
			continue
		}
		for _, g := range s.tags {
			for n, b := range counts {
				if n == 0 || !b.has(g.class) {
					continue
				}
				if c := s.clauses[s.clauseAt(g.from)]; c.bears != unsaid {
					settleLevels(found, s, n, c.bears)
				}
			}
		}
	}
}

// settleLevels gives b to the first n values of the last list before s that
// has more than n values and no outcome.
func settleLevels(found []*finding, s *sentence, n int, b bearing) {
	for i := len(found) - 1; i >= 0; i-- {
		f := found[i]
		if f.index >= s.index || f.s.region != s.region || f.t.siblings <= n || f.bearing != evidence.Reported {
			continue
		}
		if s.index-f.index > 2 {
			return
		}
		for _, o := range found {
			if o.t.q == f.t.q && o.t.q != nil && o.t.item < n {
				o.bearing = b
			}
		}
		return
	}
}

// around returns the findings within about the same passage as found[i].
func around(found []*finding, i int) []*finding {
	from, to := i, i
	for from > 0 && found[i].index-found[from-1].index <= 2*reach {
		from--
	}
	for to < len(found) && found[to].index-found[i].index <= 2*reach {
		to++
	}
	return found[from:to]
}

// before returns those of around that stand before found[i].
func before(found []*finding, i int) []*finding {
	from := i
	for from > 0 && found[i].index-found[from-1].index <= 2*reach {
		from--
	}
	return found[from:i]
}
