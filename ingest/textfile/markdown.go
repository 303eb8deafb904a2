package textfile

import (
	"regexp"
	"strings"

	"hatchlore/ingest"
)

var (
	atxHeading  = regexp.MustCompile(`^ {0,3}(#{1,6})[ \t]+(.*?)[ \t]*#*$`)
	underline   = regexp.MustCompile(`^ {0,3}(=+|-+)[ \t]*$`)
	fence       = regexp.MustCompile("^ {0,3}(```|~~~)")
	mdItem      = regexp.MustCompile(`^ {0,3}(?:[-*+]|[0-9]{1,3}[.)])[ \t]+(.*)$`)
	mdRule      = regexp.MustCompile(`^\s*\|?\s*:?-{2,}:?\s*(?:\|\s*:?-{2,}:?\s*)*\|?\s*$`)
	mdLink      = regexp.MustCompile(`!?\[([^\]]*)\]\([^)]*\)`)
	frontMatter = regexp.MustCompile(`(?s)\A---\n(.*?)\n---\n`)
	frontTitle  = regexp.MustCompile(`(?m)^title:\s*["']?(.*?)["']?\s*$`)
)

// readMarkdown reads the parts of CommonMark that papers use: headings, lists,
// pipe tables, paragraphs. The first heading of the first level is the title.
func readMarkdown(d *ingest.Document, text string) {
	w := newDraft(d)
	if m := frontMatter.FindStringSubmatch(text); m != nil {
		if t := frontTitle.FindStringSubmatch(m[1]); t != nil {
			w.block(ingest.Title, t[1])
		}
		text = text[len(m[0]):]
	}
	for _, page := range strings.Split(text, "\f") {
		markdownPage(w, strings.Split(page, "\n"))
		w.endPage()
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
			n := 2
			for i+n < len(lines) && strings.Contains(lines[i+n], "|") {
				n++
			}
			rows := [][]cell{pipes(l)}
			for _, r := range lines[i+2 : i+n] {
				rows = append(rows, pipes(r))
			}
			w.table(rows, 1)
			i += n - 1
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

func headingKind(d *ingest.Document, level int) ingest.BlockKind {
	if level == 1 && d.Title == "" {
		return ingest.Title
	}
	return ingest.Heading
}

func pipes(line string) []cell {
	line = strings.Trim(strings.TrimSpace(line), "|")
	var cells []cell
	for _, c := range strings.Split(line, "|") {
		cells = append(cells, cell{text: inline(c)})
	}
	return cells
}
