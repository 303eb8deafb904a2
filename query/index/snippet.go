package index

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/ingest"
	"hatchlore/query/index/stem"
)

// Snippet is a stretch of a page around the best place. Line ends are shown as
// spaces; apart from that Text is the page's text from byte Start on.
type Snippet struct {
	Text  string
	Start int
	Marks []Span // the words found, in bytes of Text, in order
	Opens bool   // it begins where a sentence or a block of the page does
	Ends  bool   // it ends where one does
}

// Span is a stretch in bytes.
type Span struct{ Start, End int }

// snippetSize is the length of a snippet in bytes, about three lines on a
// terminal.
const snippetSize = 240

// occurrence is a place on the page that has a needle.
type occurrence struct {
	start, end int
	needle     int
}

// finder finds needles in the texts of pages, one after the other.
type finder struct {
	needles []needle
	by      map[*stem.Analyzer]*starts
	all     []stem.Word // of the page in hand
}

func newFinder(needles []needle) *finder {
	return &finder{needles: needles, by: map[*stem.Analyzer]*starts{}}
}

// starts is what may start a needle on a page in one language.
type starts struct {
	terms   map[string][]candidate
	letters [utf8.RuneSelf]bool // that a term starts with
}

type candidate struct {
	needle int
	seq    sequence
}

func (f *finder) startsIn(a *stem.Analyzer) *starts {
	if s, ok := f.by[a]; ok {
		return s
	}
	out := &starts{terms: map[string][]candidate{}}
	for i, n := range f.needles {
		if n.without {
			continue
		}
		for _, s := range n.marked(a) {
			for _, term := range s[0] {
				out.terms[term] = append(out.terms[term], candidate{i, s})
				if term[0] < utf8.RuneSelf {
					out.letters[term[0]] = true
				}
			}
		}
	}
	f.by[a] = out
	return out
}

// occurrences finds the needles in text, in order.
func (f *finder) occurrences(text string, a *stem.Analyzer) []occurrence {
	starts := f.startsIn(a)
	if len(starts.terms) == 0 {
		return nil
	}
	f.all = f.all[:0]
	stem.Words(text, func(w stem.Word) { f.all = append(f.all, w) })
	var out []occurrence
	for i, w := range f.all {
		// Stems differ from their words at the end. Most words are done with
		// here.
		if c := w.Text[0]; c < utf8.RuneSelf && !starts.letters[c] {
			continue
		}
		for _, term := range a.Terms(w) {
			for _, s := range starts.terms[term] {
				if matches(f.all[i:], a, s.seq) {
					out = append(out, occurrence{w.Start, f.all[i+len(s.seq)-1].End, s.needle})
				}
			}
		}
	}
	return slices.Compact(out)
}

// matches reports whether the words at the front of all are those of s.
func matches(all []stem.Word, a *stem.Analyzer, s sequence) bool {
	if len(all) < len(s) {
		return false
	}
	for i, slot := range s {
		if all[i].Position != all[0].Position+i {
			return false
		}
		if len(slot) > 0 && !slices.ContainsFunc(a.Terms(all[i]), func(t string) bool { return slices.Contains(slot, t) }) {
			return false
		}
	}
	return true
}

// coversAll reports whether each needle that has to be found is in found.
func coversAll(found []occurrence, needles []needle) bool {
	for i, n := range needles {
		if !n.without && !slices.ContainsFunc(found, func(o occurrence) bool { return o.needle == i }) {
			return false
		}
	}
	return true
}

type focused struct {
	Snippet
	focus int // byte of the page on which the snippet was chosen
}

// snippetOf cuts the stretch of text that has the most of the needles, in the
// better section where there is a choice.
func snippetOf(text string, spans []sectionSpan, found []occurrence) focused {
	from, to, focus := 0, 0, 0
	best := -1.0
	for i, o := range found {
		seen := map[int]bool{}
		n, end := 0, o.end
		for _, p := range found[i:] {
			if p.end > o.start+snippetSize {
				break
			}
			seen[p.needle] = true
			n, end = n+1, max(end, p.end)
		}
		score := (float64(len(seen)) + 0.1*float64(min(n, 9))) * sectionWeight(sectionAt(spans, o.start))
		if score > best {
			best, from, to, focus = score, o.start, end, o.start
		}
	}
	if best < 0 {
		// The page was found by its paper's title or its claims.
		focus = firstOf(spans, ingest.SectionResults, ingest.SectionMethods, ingest.SectionAbstract)
		from, to = focus, focus
	}
	from, to = widen(text, from, to)
	out := focused{focus: focus, Snippet: Snippet{Start: from, Text: spaced(text[from:to]), Opens: ended(text, from), Ends: ended(text, to)}}
	for _, o := range found {
		if o.start >= from && o.end <= to {
			out.Marks = appendSpan(out.Marks, Span{o.start - from, o.end - from})
		}
	}
	return out
}

func sectionWeight(s ingest.Section) float64 {
	switch fieldOf(s) {
	case fieldCore:
		return coreField.weight
	case fieldRefs:
		return refsField.weight
	}
	return restField.weight
}

func firstOf(spans []sectionSpan, order ...ingest.Section) int {
	for _, want := range order {
		for _, s := range spans {
			if s.Section == want {
				return s.Start
			}
		}
	}
	return 0
}

// spaced shows line ends and tabs as spaces, byte for byte.
func spaced(s string) string {
	b := []byte(s)
	for i, c := range b {
		if isSpace(c) {
			b[i] = ' '
		}
	}
	return string(b)
}

// widen grows a stretch on both sides to a snippet's length and to the ends of
// words.
func widen(text string, from, to int) (int, int) {
	spare := max(snippetSize-(to-from), 0)
	start := max(from-spare/3, 0)
	end := min(to+spare-(from-start), len(text))
	start = max(min(start, end-snippetSize), 0)
	for start > 0 && start < from && !isSpace(text[start-1]) {
		start++
	}
	for start < from && isSpace(text[start]) {
		start++
	}
	for end < len(text) && end > to && !isSpace(text[end]) {
		end--
	}
	for start < len(text) && !utf8.RuneStart(text[start]) {
		start++
	}
	for end < len(text) && end > start && !utf8.RuneStart(text[end]) {
		end--
	}
	return start, max(end, start)
}

// ended reports whether the text ends a sentence or a block before at, or has
// nothing but space behind it.
func ended(text string, at int) bool {
	before, behind := text[:at], text[at:]
	if strings.TrimSpace(before) == "" || strings.TrimSpace(behind) == "" {
		return true
	}
	word := strings.TrimRightFunc(before, unicode.IsSpace)
	gap := before[len(word):] + behind[:len(behind)-len(strings.TrimLeftFunc(behind, unicode.IsSpace))]
	return strings.Contains(gap, "\n\n") || gap != "" && strings.ContainsAny(word[len(word)-1:], ".!?") && !abbreviated(word)
}

// abbreviated reports whether text ends with an initial or a short word such as
// al. or sp., whose point ends no sentence.
func abbreviated(text string) bool {
	last := text[strings.LastIndexFunc(text, unicode.IsSpace)+1:]
	short := strings.Trim(last, "().,")
	return strings.HasSuffix(last, ".") && len(short) <= 2 && strings.IndexFunc(short, func(r rune) bool { return !unicode.IsLetter(r) }) < 0
}

func isSpace(b byte) bool { return b == ' ' || b == '\n' || b == '\r' || b == '\t' || b == '\f' }

// appendSpan adds a span that starts no earlier than those before it, joining
// it with the last where they overlap.
func appendSpan(spans []Span, s Span) []Span {
	if n := len(spans); n > 0 && s.Start <= spans[n-1].End {
		spans[n-1].End = max(spans[n-1].End, s.End)
		return spans
	}
	return append(spans, s)
}
