package reference

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Line is one printed line of a paper's first page, in reading order. Size is
// the height of its letters, X and Y its place in points from the upper left;
// all are zero where the file has no geometry.
type Line struct {
	Text       string
	Size, X, Y float64
	Bold       bool
}

var (
	banner = regexp.MustCompile(`(?i)^(?:type\s|.*\b(?:issn|isbn|doi)\b|.*https?://|.*www\.|.*@|.*©|open access$|(?:original |full |short |invited )?(?:research |review )?(?:article|paper|papers|report|note|communication|contribution|review|letter|perspective|opinion|editorial|research)s?$|(?:open )?research (?:article|paper)|published\b|received\b|accepted\b|edited by|reviewed by|available online|contents lists|downloaded from|copyright|vol(?:ume)?\.?\s*\d|volume\b|article$|special issue|original (?:article|paper|research)|short communication|übersicht|originalarbeit|artículo|article original|journal homepage|this page is|page \d|pp?\. \d|\d+$|author's personal copy)`)

	bodyStart = regexp.MustCompile(`(?i)^(?:abstract|summary|zusammenfassung|résumé|resumen|resumo|riassunto|keywords?|key words|schlüsselwörter|introduction|einleitung|1\.? introduction|background)\b`)

	ownCitation = regexp.MustCompile(`(?i)^(?:citation|cite (?:as|this article|this paper)|to cite this article|how to cite(?: this article)?|recommended citation|suggested citation|zitiervorschlag|zitierweise|citar como)\s*:?\s*(.*)$`)

	yearPatterns = []*regexp.Regexp{
		regexp.MustCompile(`\bvol(?:ume)?\.?\s*\d+[^\n]{0,40}?\b(1[789]\d\d|20\d\d)\b`),
		regexp.MustCompile(`\((1[789]\d\d|20\d\d)\)\s*\d+\b`),
		regexp.MustCompile(`\b\d{1,4}\s*(?:\(\d+[^)]*\))?\s*[:,]?\s*[\d\s–-]*\((?:[a-z]+\.? )?(1[789]\d\d|20\d\d)\)`),
		regexp.MustCompile(`\b\d{1,4}\s*\(\d+\)\s*[,:]\s*(1[789]\d\d|20\d\d)\b`),
		regexp.MustCompile(`[:,]\s*\d{1,5}\s*[-–]\s*\d{1,5},?\s+(1[789]\d\d|20\d\d)\b`),
		regexp.MustCompile(`\bpublished(?: online)?:?\s[^\n]{0,30}?\b(1[789]\d\d|20\d\d)\b`),
		regexp.MustCompile(`(?:©|\(c\)|copyright)[^\n]{0,25}?\b(1[789]\d\d|20\d\d)\b`),
		regexp.MustCompile(`\baccepted:?\s[^\n]{0,30}?\b(1[789]\d\d|20\d\d)\b`),
		regexp.MustCompile(`(?m)^\s*\(?(?:(?:\d{1,2}\.? )?\p{L}{3,10}\.?(?: \d{1,2})?,? )?(1[789]\d\d|20\d\d)\)?\s*$`),
	}

	sourceLine = regexp.MustCompile(`(?m)^\s*(\p{Lu}[\p{L}&:.,' -]{4,70}?),?\s+(?:\((?:1[789]|20)\d\d\)\s*|vol(?:ume)?\.?\s*|Vol(?:ume)?\.?\s*)?(\d{1,4})\s*(?:\([^()]{1,15}\))?\s*(?:\((?:1[789]|20)\d\d\))?\s*[:,]\s*(?:pp?\.?\s*)?(\d{1,6}\s*[-–—]\s*\d{1,6}|e\d{4,8})`)
)

// FirstPage reads what a paper's first page says of the paper. The title is the
// largest type in the upper part that is no banner; the authors are the names
// below it. Where the page prints its own citation, that is believed before the
// layout.
func FirstPage(lines []Line) Record {
	lines = tidyLines(lines)
	var r Record
	first, end := titleLines(lines)
	r.Title = joinTitle(lines[first:end])
	r.Authors = authorsBelow(lines[end:])
	text := joined(lines)
	r.DOI = pageDOI(lines)
	if c, ok := printedCitation(lines); ok {
		r.Year = c.Year
		r.Journal, r.Volume, r.Pages = c.Journal, c.Volume, c.Pages
		if len(r.Authors) == 0 {
			r.Authors = c.Authors
		}
		if r.Title == "" {
			r.Title = c.Title
		}
	}
	if r.Year == 0 {
		r.Year = pageYear(text)
	}
	if r.Year == 0 {
		r.Year = frontYear(lines, first, end)
	}
	if m := sourceLine.FindStringSubmatch(text); m != nil && r.Journal == "" && !sameWords(m[1], r.Title) {
		r.Journal, r.Volume, r.Pages = strings.Trim(m[1], " ,."), m[2], PageRange(m[3])
	}
	return r
}

// tidyLines drops empty lines and makes runs of blanks one.
func tidyLines(in []Line) []Line {
	out := make([]Line, 0, len(in))
	for _, l := range in {
		l.Text = strings.Join(strings.Fields(l.Text), " ")
		if l.Text != "" {
			out = append(out, l)
		}
	}
	return out
}

func joined(lines []Line) string {
	var b strings.Builder
	for _, l := range lines {
		b.WriteString(l.Text)
		b.WriteByte('\n')
	}
	return b.String()
}

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
			b.WriteByte(' ')
		}
		b.WriteString(t)
	}
	return strings.TrimRight(b.String(), " *†‡§¶.⁎∗")
}

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

var byLine = regexp.MustCompile(`(?i)^(?:by|von|par|por|di|edited by)\s+`)

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
	for _, x := range a {
		if x.Given == "" { // a lone word is no author line
			return nil, false
		}
	}
	return a, true
}

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

// pageDOI finds the paper's own DOI: the first one printed, mended where a line
// breaks it behind a point, a slash or a hyphen.
func pageDOI(lines []Line) string {
	for i, l := range lines {
		m := doiAt.FindStringIndex(l.Text)
		if m == nil {
			continue
		}
		d := l.Text[m[0]:m[1]]
		if m[1] == len(l.Text) && i+1 < len(lines) && strings.ContainsAny(d[len(d)-1:], "./-") {
			if next := strings.Fields(lines[i+1].Text); len(next) > 0 {
				d += next[0]
			}
		}
		return FindDOI(d)
	}
	return ""
}

// printedCitation reads the citation that some papers print of themselves.
func printedCitation(lines []Line) (Entry, bool) {
	for i, l := range lines {
		m := ownCitation.FindStringSubmatch(l.Text)
		if m == nil {
			continue
		}
		raw := m[1]
		for j := i + 1; j < len(lines) && j < i+9; j++ {
			if endOfCitation.MatchString(lines[j].Text) {
				break
			}
			raw = joinLines(raw + "\n" + lines[j].Text)
		}
		if e, ok := ParseEntry(raw); ok {
			return e, true
		}
	}
	return Entry{}, false
}

var endOfCitation = regexp.MustCompile(`(?i)^(?:editor|received|accepted|published|copyright|data availability|funding|academic editor|©|doi\b|https?:)`)

// pageYear finds the year of publication by the phrases that go with it, the
// surest first.
func pageYear(text string) int {
	text = strings.ToLower(text)
	for _, p := range yearPatterns {
		if m := p.FindStringSubmatch(text); m != nil {
			y, err := strconv.Atoi(m[1])
			if err == nil {
				return y
			}
		}
	}
	return 0
}

var yearAlone = regexp.MustCompile(`\b(1[789]\d\d|20\d\d)\b`)

// frontYear is the latest year in the short lines around the title: "Issued
// August 1968", "received 4 June 1990". The title's own years do not count.
func frontYear(lines []Line, first, end int) int {
	latest := 0
	for i, l := range lines {
		if i >= first && i < end {
			continue
		}
		if i >= end+8 || bodyStart.MatchString(l.Text) {
			break
		}
		if len(strings.Fields(l.Text)) > 14 {
			continue
		}
		for _, m := range yearAlone.FindAllString(l.Text, 4) {
			if y, err := strconv.Atoi(m); err == nil {
				latest = max(latest, y)
			}
		}
	}
	return latest
}

func sameWords(a, b string) bool { return Fold(a) == Fold(b) }
