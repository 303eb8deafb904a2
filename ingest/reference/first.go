package reference

import (
	"regexp"
	"slices"
	"strings"
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
		r.Year = pageYear(joined(slices.Concat(lines[:first], lines[end:])))
	}
	if r.Year == 0 {
		r.Year = loneYear(lines, first, end)
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

func sameWords(a, b string) bool { return Fold(a) == Fold(b) }
