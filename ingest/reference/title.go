package reference

import (
	"math"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// titleLines returns the lines of the title, first to end; both are 0 when
// there is none.
func titleLines(lines []Line) (first, end int) {
	body := bodySize(lines)
	if body == 0 {
		return plainTitle(lines)
	}
	bottom := 0.0
	for _, l := range lines {
		bottom = math.Max(bottom, l.Y)
	}
	best := 0.0
	for i := 0; i < len(lines); {
		j := i + 1
		for j < len(lines) && goesOn(lines[j-1], lines[j]) {
			j++
		}
		if s := titleScore(lines[i:j], body, bottom); s > best {
			best, first, end = s, i, j
		}
		i = j
	}
	if best == 0 {
		return plainTitle(lines)
	}
	return first, end
}

// goesOn reports whether line b continues the heading of line a: same size and
// weight, and next below it.
func goesOn(a, b Line) bool {
	if math.Abs(a.Size-b.Size) > 0.06*math.Max(a.Size, b.Size) || a.Bold != b.Bold {
		return false
	}
	if a.Y == 0 && b.Y == 0 {
		return true
	}
	gap := b.Y - a.Y
	return gap >= 0 && gap < 2*math.Max(a.Size, b.Size)
}

// titleScore rates a group of lines as a title, 0 for none. Size decides; among
// equals the higher on the page wins.
func titleScore(group []Line, body, bottom float64) float64 {
	text := joinTitle(group)
	words := len(strings.Fields(text))
	letters := 0
	for _, r := range text {
		if unicode.IsLetter(r) {
			letters++
		}
	}
	ratio := group[0].Size / body
	if group[0].Bold {
		ratio *= 1.08
	}
	switch {
	case ratio < 1.12, words < 2, letters < 10, len(group) > 8, banner.MatchString(group[0].Text) && len(group) == 1, bodyStart.MatchString(text):
		return 0
	case bottom > 0 && group[0].Y > 0.62*bottom:
		return 0
	}
	if words == 2 && letters < 24 || journalName(text) {
		ratio *= 0.5 // more likely a journal's name
	}
	return ratio + 0.1*(1-group[0].Y/math.Max(bottom, 1))
}

var journalLike = regexp.MustCompile(`(?i)^(?:(?:the |international )?journal of|annals of|archiv|frontiers in|proceedings of|bulletin of|transactions of|acta |revista |zeitschrift|annales|mitteilungen)\b`)

func journalName(text string) bool {
	return journalLike.MatchString(text) && len(strings.Fields(text)) <= 6
}

// bodySize is the size in which most letters of the page are set.
func bodySize(lines []Line) float64 {
	count := map[float64]int{}
	for _, l := range lines {
		count[math.Round(l.Size*2)/2] += len(l.Text)
	}
	best, most := 0.0, 0
	for size, n := range count {
		if n > most || n == most && size < best {
			best, most = size, n
		}
	}
	return best
}

// plainTitle finds the title of a page without type sizes: the first lines that
// are no banner, up to those with authors or the start of the text.
func plainTitle(lines []Line) (first, end int) {
	for first < len(lines) && first < 12 && (banner.MatchString(lines[first].Text) || journalName(lines[first].Text) || sourceLine.MatchString(lines[first].Text) || len(strings.Fields(lines[first].Text)) < 2) {
		first++
	}
	end = first
	for end < len(lines) && end < first+5 {
		t := lines[end].Text
		if bodyStart.MatchString(t) || banner.MatchString(t) {
			break
		}
		if _, ok := authorLine(t); ok && end > first {
			break
		}
		end++
		if len(t) > 60 && strings.HasSuffix(t, ".") {
			break
		}
	}
	if end-first >= 5 {
		end = first + 1
	}
	return first, end
}

// spanBroken finds a span of years that the end of a line broke: "2014–".
var spanBroken = regexp.MustCompile(`\d[-–]$`)

func startsDigit(s string) bool { return s != "" && s[0] >= '0' && s[0] <= '9' }

// joinTitle joins the lines of a title and drops footnote signs at its end.
func joinTitle(lines []Line) string {
	var b strings.Builder
	for i, l := range lines {
		t := l.Text
		if i > 0 {
			prev := b.String()
			next, _ := utf8.DecodeRuneInString(t)
			if strings.HasSuffix(prev, "-") && unicode.IsLower(next) {
				b.WriteString(t)
				continue
			}
			if !spanBroken.MatchString(prev) || !startsDigit(t) {
				b.WriteByte(' ')
			}
		}
		b.WriteString(t)
	}
	return strings.TrimRight(b.String(), " *†‡§¶.⁎∗")
}
