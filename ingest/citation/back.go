package citation

// personal reads "(K. Lindqvist, pers. comm.)", whose first word is token i.
func (s *scanner) personal(i int) {
	end := i + 1
	for end < len(s.toks) && end < i+5 && s.is(end, ".", "comm", "obs", "communication", "observation", "observations", "data", "comms", "mitt", "mitteilung") {
		end++
	}
	if end == i+1 || end == i+2 && s.is(i+1, ".") && s.toks[i].low != "unpubl" {
		return
	}
	if s.is(end-1, ".") && !s.is(end-2, "comm", "obs", "unpubl", "mitt") {
		end--
	}
	at := i - 1
	if s.is(at, ",", "(", "[") {
		at--
	}
	m, first, ok := s.authors(at)
	if !ok && !s.is(end-1, ".") && !s.is(end-1, "communication", "mitteilung") || !ok && s.is(end-2, "obs") {
		return // the authors' own observation
	}
	if !ok {
		m, first = Mention{}, i
	}
	m.Personal = true
	m.Start, m.End = s.toks[first].start, s.toks[end-1].end
	s.found = append(s.found, m)
}

// backs are the ways to point to what was cited before, token by token.
var backs = [][]string{
	{"loc", ".", "cit"}, {"loc", "cit"}, {"op", ".", "cit"}, {"op", "cit"}, {"l", ".", "c"}, {"ibid"}, {"ibidem"},
	{"ebd"}, {"ebenda"}, {"a", ".", "a", ".", "o"}, {"obra", "citada"}, {"obra", "cit"}, {"op", ".", "citada"},
}

// back reads "Moor, loc. cit." and "(ibid.)", whose first such word is token i.
// Where nobody is named it must stand in brackets of its own.
func (s *scanner) back(i int) {
	end := 0
	for _, b := range backs {
		if s.reads(i, b) {
			end = i + len(b)
			break
		}
	}
	if end == 0 {
		return
	}
	if s.is(end, ".") {
		end++
	}
	at := i - 1
	if s.is(at, ",", "(", "[") {
		at--
	}
	m, first, named := s.authors(at)
	if !named {
		if !s.is(i-1, "(", "[") || !s.is(end, ")", "]", ",", ":") {
			return
		}
		m, first = Mention{}, i
	}
	m.Back, m.Start, m.End = true, s.toks[first].start, s.toks[end-1].end
	s.found = append(s.found, m)
}

// reads reports whether the tokens from i on are words.
func (s *scanner) reads(i int, words []string) bool {
	for k, w := range words {
		if !s.is(i+k, w) {
			return false
		}
	}
	return true
}
