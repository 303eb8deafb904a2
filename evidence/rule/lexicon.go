package rule

import (
	"fmt"
	"io/fs"
	"slices"
	"sort"
	"strings"
	"unicode"
)

// lexicon is one language's cue file, ready to be matched.
type lexicon struct {
	lang          string
	common        map[string]bool
	abbreviations map[string]bool
	phrases       []phrase
	exact         map[string][]int               // by first word
	stems         map[string][]int               // by the first three bytes of the first word
	loose         []int                          // first word begins with * or is <n>
	spellings     map[string]map[string][]string // of single words without marks: their spellings, and what each means
}

type phrase struct {
	class  string
	words  []pattern
	gapped bool
}

// pattern matches one word; gap matches up to maxGap words.
type pattern struct {
	text         string
	spelled      string // as the file spells it, where the marks count; else ""
	prefix, tail bool   // text is the beginning, the end of the word; both: inside it
	gap, number  bool
}

const (
	maxGap  = 3
	stemLen = 3
	void    = "void" // the class that serves for hiding alone
)

// SyntaxError is a fault in a rule or cue file.
type SyntaxError struct {
	File string
	Line int
	Col  int // in bytes, from 1
	Near string
	Msg  string
}

func (e *SyntaxError) Error() string {
	return fmt.Sprintf("%s:%d:%d: %s near %q", e.File, e.Line, e.Col, e.Msg, e.Near)
}

// parseCues reads one cue file.
func parseCues(name, text string) (*lexicon, error) {
	lex := &lexicon{common: map[string]bool{}, abbreviations: map[string]bool{},
		exact: map[string][]int{}, stems: map[string][]int{}, spellings: map[string]map[string][]string{}}
	entry := ""
	for n, line := range strings.Split(text, "\n") {
		line = strings.TrimRight(line, " \t\r")
		body := line
		if i := strings.IndexByte(line, '#'); i >= 0 {
			body = strings.TrimRight(line[:i], " \t")
		}
		if strings.TrimSpace(body) == "" {
			continue
		}
		fail := func(col int, msg string) error { return &SyntaxError{name, n + 1, col + 1, excerpt(line, col), msg} }
		col := 0
		if body[0] != ' ' && body[0] != '\t' {
			i := strings.IndexByte(body, ':')
			if i < 0 {
				return nil, fail(0, "want NAME: PHRASES")
			}
			entry = strings.TrimSpace(body[:i])
			if !isName(entry) {
				return nil, fail(0, "bad entry name")
			}
			col = i + 1
		} else if entry == "" {
			return nil, fail(0, "a list with no entry above it")
		}
		for _, item := range strings.Split(body[col:], ",") {
			if err := lex.add(entry, strings.TrimSpace(item)); err != "" {
				return nil, fail(col, err)
			}
			col += len(item) + 1
		}
	}
	if lex.lang == "" {
		return nil, &SyntaxError{name, 1, 1, "", "no language entry"}
	}
	lex.heedMarks()
	return lex, nil
}

// spell notes a spelling of a word and the class that it stands in.
func (l *lexicon) spell(folded, spelling, class string) {
	if l.spellings[folded] == nil {
		l.spellings[folded] = map[string][]string{}
	}
	if as := l.spellings[folded]; !slices.Contains(as[spelling], class) {
		as[spelling] = append(as[spelling], class)
	}
}

// heedMarks makes marks count for the words that differ in them alone and mean
// different things: German "wurde" and "würde", Spanish "esta" and "está".
// Everywhere else marks are lost on both sides, as scans lose them.
func (l *lexicon) heedMarks() {
	for i := range l.phrases {
		for k := range l.phrases[i].words {
			if w := &l.phrases[i].words[k]; w.prefix || w.tail || w.gap || w.number || !l.twofold(w.text) {
				w.spelled = ""
			}
		}
	}
	l.spellings = nil
}

// twofold reports whether a folded word has spellings that mean different
// things.
func (l *lexicon) twofold(folded string) bool {
	var first []string
	for _, classes := range l.spellings[folded] {
		slices.Sort(classes)
		if first == nil {
			first = classes
		} else if !slices.Equal(first, classes) {
			return true
		}
	}
	return false
}

// add puts one item under an entry; it returns what is wrong, or "".
func (l *lexicon) add(entry, item string) string {
	if item == "" {
		return ""
	}
	switch entry {
	case "language":
		l.lang = item
		return ""
	case "common":
		l.common[fold(item)] = true
		l.spell(fold(item), strings.ToLower(item), entry)
		return ""
	case "abbreviation":
		l.abbreviations[fold(item)] = true
		return ""
	}
	p := phrase{class: entry}
	for _, f := range strings.FieldsFunc(item, func(r rune) bool { return unicode.IsSpace(r) || r == '-' || r == '\'' || r == '’' }) {
		pat, msg := parsePattern(fold(f))
		pat.spelled = strings.ToLower(f)
		if msg != "" {
			return msg
		}
		p.words = append(p.words, pat)
		p.gapped = p.gapped || pat.gap
	}
	if len(p.words) == 0 || p.words[0].gap || p.words[len(p.words)-1].gap {
		return "a phrase begins and ends with a word"
	}
	if w := p.words[0]; len(p.words) == 1 && !w.prefix && !w.tail && !w.number {
		l.spell(w.text, w.spelled, entry)
	}
	id := len(l.phrases)
	l.phrases = append(l.phrases, p)
	switch first := p.words[0]; {
	case first.tail || first.number || first.prefix && len(first.text) < stemLen:
		l.loose = append(l.loose, id)
	case first.prefix:
		l.stems[first.text[:stemLen]] = append(l.stems[first.text[:stemLen]], id)
	default:
		l.exact[first.text] = append(l.exact[first.text], id)
	}
	return ""
}

func parsePattern(s string) (pattern, string) {
	switch s {
	case "~":
		return pattern{gap: true}, ""
	case "<n>":
		return pattern{number: true}, ""
	}
	p := pattern{text: s}
	p.text, p.tail = strings.CutPrefix(p.text, "*")
	p.text, p.prefix = strings.CutSuffix(p.text, "*")
	if p.text == "" || strings.ContainsAny(p.text, "*~<>") {
		return p, "bad word in a phrase"
	}
	return p, ""
}

func (p pattern) matches(printed word) bool {
	w := printed.fold
	switch {
	case p.number:
		return w[0] >= '0' && w[0] <= '9'
	case p.prefix && p.tail:
		return strings.Contains(w, p.text)
	case p.prefix:
		return strings.HasPrefix(w, p.text)
	case p.tail:
		return strings.HasSuffix(w, p.text)
	}
	return w == p.text && (p.spelled == "" || p.spelled == printed.spelling())
}

// cue is a phrase found in a sentence: words [from, to).
type cue struct {
	class    string
	from, to int
	gapped   bool // found with words of no matter in between
}

// find returns the cues among ws, in order. A cue inside a longer phrase of
// its own class is dropped; inside a longer phrase of a masking class it is
// dropped whatever its class, unless it stands in the phrase's gap.
func (l *lexicon) find(ws []word, masks map[string]bool) []cue {
	var all []cue
	for i := range ws {
		try := func(ids []int) {
			for _, id := range ids {
				if to := matchAt(l.phrases[id].words, ws, i); to > 0 {
					all = append(all, cue{l.phrases[id].class, i, to, l.phrases[id].gapped})
				}
			}
		}
		w := ws[i].fold
		try(l.exact[w])
		if len(w) >= stemLen {
			try(l.stems[w[:stemLen]])
		}
		try(l.loose)
	}
	return keepLongest(all, masks)
}

// matchAt returns where the phrase that begins at word i ends, 0 for no match.
func matchAt(ps []pattern, ws []word, i int) int {
	for k := 0; k < len(ps); k++ {
		if ps[k].gap {
			for skip := 0; skip <= maxGap; skip++ {
				if to := matchAt(ps[k+1:], ws, i+skip); to > 0 {
					return to
				}
				if i+skip >= len(ws) || ws[i+skip].before&(afterStrong|afterOpen|afterClose) != 0 {
					return 0
				}
			}
			return 0
		}
		if i >= len(ws) || k > 0 && ws[i].before&(afterStrong|afterOpen) != 0 || !ps[k].matches(ws[i]) {
			return 0
		}
		i++
	}
	return i
}

// keepLongest drops cues that a longer one hides, and exact repeats.
func keepLongest(all []cue, masks map[string]bool) []cue {
	sort.SliceStable(all, func(a, b int) bool {
		switch {
		case all[a].from != all[b].from:
			return all[a].from < all[b].from
		case all[a].to != all[b].to:
			return all[a].to > all[b].to
		}
		return all[a].class == void && all[b].class != void
	})
	out := all[:0]
	var mask cue // the mask so far that ends last
	last := map[string]cue{}
	for _, c := range all {
		if hides(mask, c) || hides(last[c.class], c) || containsCue(out, c) {
			continue
		}
		out = append(out, c)
		if masks[c.class] && c.to > mask.to {
			mask = c
		}
		if c.to > last[c.class].to {
			last[c.class] = c
		}
	}
	return out
}

// hides reports whether the longer cue r makes c, which begins no earlier,
// unreadable. A cue of the class void need not be longer.
func hides(r, c cue) bool {
	inside := c.to <= r.to && (c.from > r.from || c.to < r.to || r.class == void && c.class != void)
	return inside && (!r.gapped || c.from == r.from || c.to == r.to)
}

func containsCue(cs []cue, c cue) bool {
	for i := len(cs) - 1; i >= 0 && cs[i].from == c.from; i-- {
		if cs[i] == c {
			return true
		}
	}
	return false
}

func isName(s string) bool {
	for i, r := range s {
		if !unicode.IsLetter(r) && (i == 0 || !unicode.IsDigit(r) && r != '-') {
			return false
		}
	}
	return s != ""
}

func excerpt(line string, col int) string {
	if col > len(line) {
		col = len(line)
	}
	s := strings.TrimSpace(line[col:])
	if r := []rune(s); len(r) > 24 {
		s = string(r[:24])
	}
	return s
}

// loadCues reads every cue file of the folder cues, by language.
func loadCues(fsys fs.FS) (map[string]*lexicon, error) {
	names, err := fs.Glob(fsys, "cues/*.cue")
	if err != nil {
		return nil, fmt.Errorf("list cue files: %w", err)
	}
	out := map[string]*lexicon{}
	for _, name := range names {
		b, err := fs.ReadFile(fsys, name)
		if err != nil {
			return nil, fmt.Errorf("read cue file: %w", err)
		}
		lex, err := parseCues(name, string(b))
		if err != nil {
			return nil, err
		}
		out[lex.lang] = lex
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no cue files under cues/")
	}
	return out, nil
}
