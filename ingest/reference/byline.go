package reference

import (
	"math"
	"regexp"
	"slices"
	"strings"
)

// authorsBelow reads the names in the lines below a title.
func authorsBelow(lines []Line) []Author {
	var out []Author
	ended := false
	var row Line // the last line of authors
	for i, l := range lines {
		if i >= 14 || bodyStart.MatchString(l.Text) {
			break
		}
		if ended && (l.Y == 0 || math.Abs(l.Y-row.Y) > 1 || l.Size != row.Size) {
			continue // affiliations; only the next author of the same row may follow
		}
		if a, ok := authorLine(l.Text); ok {
			out = append(out, a...)
			row = l
		} else if len(out) > 0 {
			ended = true
		}
	}
	return out
}

var byLine = regexp.MustCompile(`(?i)^(?:(?:prepared |written |compiled |edited )?by|von|par|por|di)\s+`)

// authorLine reads one line of authors with their footnote signs.
func authorLine(t string) ([]Author, bool) {
	t = byLine.ReplaceAllString(t, "")
	if len(t) > 300 || banner.MatchString(t) {
		return nil, false
	}
	t = marks.ReplaceAllString(t, " ")
	t = strings.Join(strings.Fields(t), " ")
	for strings.Contains(t, ", ,") || strings.Contains(t, " ,") {
		t = strings.ReplaceAll(strings.ReplaceAll(t, ", ,", ","), " ,", ",")
	}
	a, ok := parseAuthors(t)
	if !ok {
		a, ok = namesInRow(t)
	}
	if !ok {
		a, ok = leadingNames(t)
	}
	if !ok {
		return nil, false
	}
	if slices.ContainsFunc(a, lone) { // a place behind the names, or no authors at all
		a, ok = leadingNames(t)
	}
	return a, ok && !slices.ContainsFunc(a, lone)
}

func lone(a Author) bool { return a.Given == "" }

// leadingNames reads the names before an affiliation in the same line: "Petra
// Moor, Field Station of the Fen".
func leadingNames(t string) ([]Author, bool) {
	var out []Author
	for chunk := range strings.SplitSeq(separators.ReplaceAllString(t, ","), ",") {
		a, ok := parseAuthors(chunk)
		if !ok || len(a) != 1 || a[0].Given == "" {
			break
		}
		out = append(out, a[0])
	}
	return out, len(out) > 0 && len(strings.Fields(t)) <= 20 && !strings.HasSuffix(t, ".")
}

// namesInRow reads names that only blanks set apart: "Joanna Hallow Anders Birk
// Petra Moor". Fewer than six words could be one long name.
func namesInRow(t string) ([]Author, bool) {
	words := strings.Fields(t)
	if len(words) < 6 || len(words)%2 != 0 || institution.MatchString(t) {
		return nil, false
	}
	var out []Author
	for i := 0; i < len(words); i += 2 {
		if !nameWord(words[i]) || !nameWord(words[i+1]) {
			return nil, false
		}
		out = append(out, Author{Given: words[i], Family: properCase(words[i+1])})
	}
	return out, true
}
