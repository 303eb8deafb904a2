package textfile

import (
	"regexp"
	"slices"
	"strings"

	"hatchlore/ingest"
)

var (
	atxHeading  = regexp.MustCompile(`^ {0,3}(#{1,6})[ \t]+(.*?)[ \t]*#*$`)
	underline   = regexp.MustCompile(`^ {0,3}(=+|-+)[ \t]*$`)
	fence       = regexp.MustCompile("^ {0,3}(```|~~~)")
	mdItem      = regexp.MustCompile(`^ {0,3}(?:[-*+]|[0-9]{1,3}[.)])[ \t]+(.*)$`)
	mdRule      = regexp.MustCompile(`^\s*\|?\s*:?-+:?\s*(?:\|\s*:?-+:?\s*)*\|?\s*$`)
	mdLink      = regexp.MustCompile(`!?\[([^\]]*)\]\([^)]*\)`)
	frontMatter = regexp.MustCompile(`(?s)\A---\n(.*?)\n---\n`)
	frontTitle  = regexp.MustCompile(`(?m)^title:\s*["']?(.*?)["']?\s*$`)
	frontAuthor = regexp.MustCompile(`(?m)^authors?:[ \t]*(.*(?:\n[ \t]*-[ \t].*)*)$`)
	frontDate   = regexp.MustCompile(`(?m)^(?:date|year):\s*["']?(\d{4})\b`)
)

// readMarkdown reads the parts of CommonMark that papers use: headings, lists,
// pipe tables, paragraphs. The first heading of the first level is the title.
func readMarkdown(d *ingest.Document, text string) {
	w := newDraft(d)
	if m := frontMatter.FindStringSubmatch(text); m != nil {
		if t := frontTitle.FindStringSubmatch(m[1]); t != nil {
			w.block(ingest.Title, t[1])
			byline(w, m[1])
		}
		text = text[len(m[0]):]
	}
	for _, page := range strings.Split(text, "\f") {
		markdownPage(w, strings.Split(page, "\n"))
		w.endPage()
	}
}

// byline puts the authors and the year of a file's front matter below its title, where
// a paper has them.
func byline(w *draft, front string) {
	if m := frontAuthor.FindStringSubmatch(front); m != nil {
		names := strings.Split(m[1], "\n")
		if in, ok := strings.CutPrefix(strings.TrimSpace(m[1]), "["); ok {
			names = strings.Split(strings.TrimSuffix(in, "]"), ",")
		}
		for i, n := range names {
			names[i] = strings.Trim(strings.TrimPrefix(strings.TrimSpace(n), "- "), "\"' ")
		}
		names = slices.DeleteFunc(names, func(n string) bool { return n == "" })
		w.block(ingest.Paragraph, strings.Join(names, "; "))
	}
	if m := frontDate.FindStringSubmatch(front); m != nil {
		w.block(ingest.Paragraph, m[1])
	}
}

func markdownPage(w *draft, lines []string) {
	var open []string
	kind := ingest.Paragraph
	flush := func() {
		w.block(kind, open...)
		open, kind = nil, ingest.Paragraph
	}
	for i := 0; i < len(lines); i++ {
		l := lines[i]
		switch {
		case strings.TrimSpace(l) == "":
			flush()
		case fence.MatchString(l):
			flush()
			i += fenced(w, lines[i:])
		case atxHeading.MatchString(l):
			flush()
			m := atxHeading.FindStringSubmatch(l)
			w.block(headingKind(w.doc, len(m[1])), inline(m[2]))
		case underline.MatchString(l) && len(open) == 1 && kind == ingest.Paragraph:
			level := 2
			if strings.Contains(l, "=") {
				level = 1
			}
			kind = headingKind(w.doc, level)
			flush()
		case i+1 < len(lines) && strings.Contains(l, "|") && mdRule.MatchString(lines[i+1]) && strings.Contains(lines[i+1], "|"):
			flush()
			i += pipeTable(w, lines[i:]) - 1
		case mdItem.MatchString(l):
			flush()
			kind = ingest.ListItem
			open = []string{inline(mdItem.FindStringSubmatch(l)[1])}
		default:
			open = append(open, inline(strings.TrimPrefix(strings.TrimSpace(l), "> ")))
		}
	}
	flush()
}

// fenced writes what stands between the fence that the lines begin with and the next:
// code and data, no sentences, and so in no block. It returns how many lines behind
// the first are done with, 0 where nothing closes the fence.
func fenced(w *draft, lines []string) int {
	mark := fence.FindStringSubmatch(lines[0])[1]
	end := slices.IndexFunc(lines[1:], func(l string) bool { m := fence.FindStringSubmatch(l); return m != nil && m[1] == mark })
	if end < 0 {
		return 0
	}
	for _, l := range lines[1 : end+1] {
		if l = spaced(l); l != "" {
			w.part()
			w.line(l)
		}
	}
	return end + 1
}

func headingKind(d *ingest.Document, level int) ingest.BlockKind {
	if level == 1 && d.Title == "" {
		return ingest.Title
	}
	return ingest.Heading
}

// pipeTable writes the table of which lines begin with the head and the rule below
// it, and returns how many lines it has.
func pipeTable(w *draft, lines []string) int {
	rows := [][]cell{pipes(lines[0])}
	n := 2
	for n < len(lines) && strings.Contains(lines[n], "|") {
		rows = append(rows, pipes(lines[n]))
		n++
	}
	w.table(rows, 1)
	return n
}

// pipes parts a row at its pipes. One at either end closes the row; one behind a
// backslash is part of its cell.
func pipes(line string) []cell {
	line = strings.TrimPrefix(strings.TrimSpace(line), "|")
	var cells []cell
	from := 0
	for i := 0; i < len(line); i++ {
		switch line[i] {
		case '\\':
			i++
		case '|':
			cells = append(cells, cell{text: inline(line[from:i])})
			from = i + 1
		}
	}
	if rest := line[from:]; rest != "" || len(cells) == 0 {
		cells = append(cells, cell{text: inline(rest)})
	}
	return cells
}
