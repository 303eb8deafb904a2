// Package passage divides a page by the sections that it stands in, and cuts out of
// it the passage that answers a question best.
//
// It refuses to judge what a section is worth, which the caller says, and to show
// anything but the page's own text.
package passage

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/ingest"
	"hatchlore/query/index/needle"
)

// Snippet is a stretch of a page around the best place. Line ends are shown as
// spaces; apart from that Text is the page's text from byte Start on.
type Snippet struct {
	Text    string
	Start   int
	Marks   []Span         // the words found, in bytes of Text, in order
	Section ingest.Section // of the place that it was cut around
	Opens   bool           // it begins where a sentence or a block of the page does
	Ends    bool           // it ends where one does
}

// Span is a stretch in bytes.
type Span struct{ Start, End int }

// Size is the length of a snippet in bytes, about three lines on a terminal.
const Size = 240

// Best cuts the stretch of text that has the most of the needles found, in the
// section that is worth more where there is a choice.
func Best(text string, parts []Part, found []needle.Place, worth func(ingest.Section) float64) Snippet {
	around, ok := densest(parts, found, worth)
	if !ok {
		// The page was found by its paper's title or its claims.
		start := firstOf(parts, ingest.SectionResults, ingest.SectionMethods, ingest.SectionAbstract)
		around = Span{start, start}
	}
	from, to := widen(text, around.Start, around.End)
	out := Snippet{Text: spaced(text[from:to]), Start: from, Section: SectionAt(parts, around.Start), Opens: ended(text, from), Ends: ended(text, to)}
	for _, s := range Spans(found) {
		if s.Start >= from && s.End <= to {
			out.Marks = append(out.Marks, Span{s.Start - from, s.End - from})
		}
	}
	return out
}

// Spans are the stretches that places, in order, cover together.
func Spans(places []needle.Place) []Span {
	var out []Span
	for _, p := range places {
		if n := len(out); n > 0 && p.Start <= out[n-1].End {
			out[n-1].End = max(out[n-1].End, p.End)
			continue
		}
		out = append(out, Span{p.Start, p.End})
	}
	return out
}

// densest returns the stretch no longer than a snippet that has the most of the
// needles, each counted once and a little more for coming again; ok is false where
// nothing was found.
func densest(parts []Part, found []needle.Place, worth func(ingest.Section) float64) (out Span, ok bool) {
	best := -1.0
	for i, first := range found {
		seen := map[int]bool{}
		n, end := 0, first.End
		for _, p := range found[i:] {
			if p.End > first.Start+Size {
				break
			}
			seen[p.Needle] = true
			n, end = n+1, max(end, p.End)
		}
		score := (float64(len(seen)) + 0.1*float64(min(n, 9))) * worth(SectionAt(parts, first.Start))
		if score > best {
			best, out = score, Span{first.Start, end}
		}
	}
	return out, len(found) > 0
}

func firstOf(parts []Part, order ...ingest.Section) int {
	for _, want := range order {
		for _, p := range parts {
			if p.Section == want {
				return p.Start
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
	spare := max(Size-(to-from), 0)
	start := max(from-spare/3, 0)
	end := min(to+spare-(from-start), len(text))
	start = max(min(start, end-Size), 0)
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
