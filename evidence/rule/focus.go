package rule

import (
	"slices"

	"hatchlore/evidence/rule/marked"
	"hatchlore/species/name"
)

// focus is what a text is about at some point.
type focus struct {
	group  *marked.NameList
	all    []name.Name // of the last sentence that named two or more
	topic  bool        // eggs were spoken of
	region int
}

// focusIn is the focus at the start of a region.
func (r *reading) focusIn(region int) focus {
	g := r.Headed[region]
	return focus{group: g, topic: g != nil, region: region}
}

// follow moves the focus past s.
func (r *reading) follow(f *focus, s *marked.Sentence) {
	var all []name.Name
	for _, g := range s.Names {
		if !g.Aside {
			all = append(all, g.Names...)
		}
	}
	if len(all) > 1 {
		f.all = all
	}
	if len(s.Names) == 0 && len(f.all) > 1 && s.Has.Meets(r.Roles.Both) {
		f.group, f.topic = &marked.NameList{Names: f.all}, s.Has.Meets(r.Roles.Topic) // "both were kept moist": what follows is of both
	}
	for _, g := range s.Names {
		if g.Aside {
			continue
		}
		f.group, f.topic = g, s.Has.Meets(r.Roles.Topic)
		return
	}
}

// fallback is the focus, narrowed by the title where both name names.
func (r *reading) fallback(f *focus) *marked.NameList {
	switch {
	case len(r.Titled) == 0 && f.group == nil && r.lead.region < f.region:
		return r.lead.group
	case len(r.Titled) == 0:
		return f.group
	}
	title := &marked.NameList{}
	for _, g := range r.Titled {
		title.Names = append(title.Names, g.Names...)
	}
	if f.group == nil {
		return title
	}
	var shared []name.Name
	for _, n := range f.group.Names {
		for _, m := range title.Names {
			if n.Full() == m.Full() || n.Genus == m.Genus && m.Rank == name.Genus {
				shared = append(shared, n)
			} else if n.Genus == m.Genus && n.Rank == name.Genus {
				shared = append(shared, m)
			}
		}
	}
	switch {
	case len(shared) > 0:
		return &marked.NameList{Names: shared}
	case f.topic:
		return f.group
	}
	return title
}

// resumed is the focus where s goes on from a sentence shortly before that named
// it, with a pronoun among its first words: "The clay-pan shrimp, Q. pallidipes,
// is another story. Its mud must be dry."
func (r *reading) resumed(s *marked.Sentence, f *focus) *marked.NameList {
	const opening, back = 4, 2
	if f.group == nil || !slices.ContainsFunc(s.Tags, func(g marked.Tag) bool { return g.From < opening && r.Roles.Heir.Has(g.Class) }) {
		return nil
	}
	for d := 1; d <= back; d++ {
		if o := r.Beside(s, -d); o != nil && slices.Contains(o.Names, f.group) {
			return f.group
		}
	}
	return nil
}

// ofSource returns the one species of a cited paper's title, where the text says
// nothing else of whom it speaks and has several in view.
func (r *reading) ofSource(s *marked.Sentence, t *marked.Target, f *focus) []name.Name {
	all := r.fallback(f)
	if all == nil || len(all.Names) < 2 {
		return nil
	}
	c, ok := r.citedFor(s, t)
	if !ok {
		return nil
	}
	found := r.Entitled(s.Page.Text[c.Start:c.End])
	if len(found) != 1 {
		return nil
	}
	for _, n := range all.Names {
		if n.Full() == found[0].Full() {
			return []name.Name{n}
		}
	}
	return nil
}

// neighbours returns the sentences of the region within twice the reach.
func (r *reading) neighbours(s *marked.Sentence) []*marked.Sentence {
	from, to := s.Index, s.Index
	for from > 0 && s.Index-from < 2*marked.Reach && r.Sentences[from-1].Region == s.Region {
		from--
	}
	for to < len(r.Sentences) && to-s.Index <= 2*marked.Reach && r.Sentences[to].Region == s.Region {
		to++
	}
	return r.Sentences[from:to]
}

// only returns the sole name of the neighbourhood, where it has one.
func (r *reading) only(s *marked.Sentence) *marked.NameList {
	var g *marked.NameList
	for _, o := range r.neighbours(s) {
		for _, n := range o.Names {
			if g != nil && (len(n.Names) != 1 || n.Names[0].Full() != g.Names[0].Full()) {
				return nil
			}
			g = n
		}
	}
	if g == nil || len(g.Names) != 1 {
		return nil
	}
	return g
}

// lead is whom a text names first, and in which region: where the title names
// nobody, later parts of the text are about the same animal until they name
// another.
type lead struct {
	group  *marked.NameList
	region int
}

func (r *reading) firstNamed() lead {
	for _, s := range r.Sentences {
		for _, g := range s.Names {
			if !g.Aside {
				return lead{g, s.Region}
			}
		}
	}
	return lead{}
}
