package lexicon

import (
	"fmt"
	"io/fs"
	"slices"
	"sort"
	"strings"
	"unicode"
)

// Lexicon is one language's cue file, ready to be matched.
type Lexicon struct {
	lang          string
	common        map[string]bool
	abbreviations map[string]bool
	counted       map[string]bool // a number with a full stop before one of them is an ordinal
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
	Void    = "void" // the class that serves for hiding alone
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

// Parse reads one cue file.
func Parse(name, text string) (*Lexicon, error) {
	lex := &Lexicon{common: map[string]bool{}, abbreviations: map[string]bool{}, counted: map[string]bool{},
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
		fail := func(col int, msg string) error { return Fault(name, n+1, line, col, msg) }
		col := 0
		if body[0] != ' ' && body[0] != '\t' {
			i := strings.IndexByte(body, ':')
			if i < 0 {
				return nil, fail(0, "want NAME: PHRASES")
			}
			entry = strings.TrimSpace(body[:i])
			if !IsName(entry) {
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
func (l *Lexicon) spell(folded, spelling, class string) {
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
func (l *Lexicon) heedMarks() {
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
func (l *Lexicon) twofold(folded string) bool {
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
func (l *Lexicon) add(entry, item string) string {
	if item == "" {
		return ""
	}
	switch entry {
	case "language":
		l.lang = item
		return ""
	case "common":
		l.common[Fold(item)] = true
		l.spell(Fold(item), strings.ToLower(item), entry)
		return ""
	case "abbreviation":
		l.abbreviations[Fold(item)] = true
		return ""
	case "ordinal":
		l.counted[Fold(item)] = true
		return ""
	}
	p := phrase{class: entry}
	for _, f := range strings.FieldsFunc(item, func(r rune) bool { return unicode.IsSpace(r) || r == '-' || r == '\'' || r == '’' }) {
		pat, msg := parsePattern(Fold(f))
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

func (p pattern) matches(printed Word) bool {
	w := printed.Fold
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

// Cue is a phrase found in a sentence: words [from, to).
type Cue struct {
	Class    string
	From, To int
	gapped   bool // found with words of no matter in between
}

// Find returns the cues among ws, in order. A cue inside a longer phrase of
// its own class is dropped; inside a longer phrase of a masking class it is
// dropped whatever its class, unless it stands in the phrase's gap.
func (l *Lexicon) Find(ws []Word, masks map[string]bool) []Cue {
	var all []Cue
	for i := range ws {
		try := func(ids []int) {
			for _, id := range ids {
				if to := matchAt(l.phrases[id].words, ws, i); to > 0 {
					all = append(all, Cue{l.phrases[id].class, i, to, l.phrases[id].gapped})
				}
			}
		}
		w := ws[i].Fold
		try(l.exact[w])
		if len(w) >= stemLen {
			try(l.stems[w[:stemLen]])
		}
		try(l.loose)
	}
	return keepLongest(all, masks)
}

// matchAt returns where the phrase that begins at word i ends, 0 for no match.
func matchAt(ps []pattern, ws []Word, i int) int {
	for k := 0; k < len(ps); k++ {
		if ps[k].gap {
			for skip := 0; skip <= maxGap; skip++ {
				if to := matchAt(ps[k+1:], ws, i+skip); to > 0 {
					return to
				}
				if i+skip >= len(ws) || ws[i+skip].Before&(AfterStrong|AfterOpen|AfterClose) != 0 {
					return 0
				}
			}
			return 0
		}
		if i >= len(ws) || k > 0 && ws[i].Before&(AfterStrong|AfterOpen) != 0 || !ps[k].matches(ws[i]) {
			return 0
		}
		i++
	}
	return i
}

// keepLongest drops cues that a longer one hides, and exact repeats.
func keepLongest(all []Cue, masks map[string]bool) []Cue {
	sort.SliceStable(all, func(a, b int) bool {
		switch {
		case all[a].From != all[b].From:
			return all[a].From < all[b].From
		case all[a].To != all[b].To:
			return all[a].To > all[b].To
		}
		return all[a].Class == Void && all[b].Class != Void
	})
	out := all[:0]
	var mask Cue // the mask so far that ends last
	last := map[string]Cue{}
	for _, c := range all {
		if hides(mask, c) || hides(last[c.Class], c) || containsCue(out, c) {
			continue
		}
		out = append(out, c)
		if masks[c.Class] && c.To > mask.To {
			mask = c
		}
		if c.To > last[c.Class].To {
			last[c.Class] = c
		}
	}
	return out
}

// hides reports whether the longer cue r makes c, which begins no earlier,
// unreadable. A cue of the class void need not be longer.
func hides(r, c Cue) bool {
	inside := c.To <= r.To && (c.From > r.From || c.To < r.To || r.Class == Void && c.Class != Void)
	return inside && (!r.gapped || c.From == r.From || c.To == r.To)
}

func containsCue(cs []Cue, c Cue) bool {
	for i := len(cs) - 1; i >= 0 && cs[i].From == c.From; i-- {
		if cs[i] == c {
			return true
		}
	}
	return false
}

// IsName reports whether s can name an entry: a letter, then letters, digits and
// hyphens.
func IsName(s string) bool {
	for i, r := range s {
		if !unicode.IsLetter(r) && (i == 0 || !unicode.IsDigit(r) && r != '-') {
			return false
		}
	}
	return s != ""
}

// Fault is a fault at byte col, from 0, of a line.
func Fault(file string, n int, line string, col int, msg string) *SyntaxError {
	return &SyntaxError{file, n, col + 1, excerpt(line, col), msg}
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

// Load reads every file that matches the pattern, by language.
func Load(fsys fs.FS, pattern string) (map[string]*Lexicon, error) {
	names, err := fs.Glob(fsys, pattern)
	if err != nil {
		return nil, fmt.Errorf("list word files: %w", err)
	}
	out := map[string]*Lexicon{}
	for _, name := range names {
		b, err := fs.ReadFile(fsys, name)
		if err != nil {
			return nil, fmt.Errorf("read word file: %w", err)
		}
		lex, err := Parse(name, string(b))
		if err != nil {
			return nil, err
		}
		out[lex.lang] = lex
	}
	return out, nil
}
