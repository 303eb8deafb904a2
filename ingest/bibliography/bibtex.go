package bibliography

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"hatchlore/ingest/charset"
	"hatchlore/ingest/reference"
)

var bibKinds = map[string]Kind{
	"article": Article, "book": Book, "inbook": Chapter, "incollection": Chapter, "inproceedings": Chapter, "conference": Chapter,
	"phdthesis": Thesis, "mastersthesis": Thesis, "thesis": Thesis, "techreport": Report, "report": Report,
}

// ReadBibTeX reads a BibTeX file: entries in braces or parentheses, string
// macros, values in braces, quotes or joined by #, cross-references, and TeX's
// accents. The error is the reader's; what is wrong in the file is a [Problem].
func ReadBibTeX(r io.Reader) ([]Work, []Problem, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, nil, fmt.Errorf("reading BibTeX: %w", err)
	}
	p := bibParser{s: charset.Text(data), macros: map[string]string{}}
	for n, m := range []string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"} {
		p.macros[m] = fmt.Sprint(n + 1)
	}
	for p.entry() {
	}
	works, problems := p.finish()
	return works, problems, nil
}

type bibParser struct {
	s        string
	at       int
	line     int // line breaks before at, counted up to counted
	counted  int
	macros   map[string]string
	entries  []bibEntry
	problems []Problem
}

// bibEntry is an entry as it stands in the file.
type bibEntry struct {
	kind, key string
	line      int
	fields    map[string]string
}

// entry reads the next entry; false at the end.
func (p *bibParser) entry() bool {
	i := strings.IndexByte(p.s[p.at:], '@')
	if i < 0 {
		return false
	}
	p.at += i
	p.line += strings.Count(p.s[p.counted:p.at], "\n")
	p.counted = p.at
	line := p.line + 1
	p.at++
	kind := strings.ToLower(p.name())
	p.space()
	if kind == "" || !p.take('{') && !p.take('(') {
		return true // an @ in free text, which BibTeX takes as comment
	}
	switch kind {
	case "comment", "preamble":
		p.at--
		p.skipBlock()
	case "string":
		for name, value := range p.fields() {
			p.macros[name] = value
		}
	default:
		p.body(kind, line)
	}
	return true
}

// skipBlock passes over a balanced block, whose opening sign is at p.at.
func (p *bibParser) skipBlock() {
	depth := 0
	for ; p.at < len(p.s); p.at++ {
		switch p.s[p.at] {
		case '{', '(':
			depth++
		case '}', ')':
			if depth--; depth == 0 {
				p.at++
				return
			}
		}
	}
}

func (p *bibParser) body(kind string, line int) {
	p.space()
	end := strings.IndexAny(p.s[p.at:], ",}\n")
	if end < 0 {
		p.problems = append(p.problems, Problem{line, "entry without an end"})
		p.at = len(p.s)
		return
	}
	key := strings.TrimSpace(p.s[p.at : p.at+end])
	p.at += end
	p.take(',')
	f := map[string]string{}
	for name, value := range p.fields() {
		if _, ok := f[name]; !ok {
			f[name] = value
		}
	}
	p.entries = append(p.entries, bibEntry{kind, key, line, f})
}

// finish makes works of the entries, with what they take over from others.
func (p *bibParser) finish() ([]Work, []Problem) {
	byKey := map[string]bibEntry{}
	for _, e := range p.entries {
		byKey[strings.ToLower(e.key)] = e
	}
	var works []Work
	problems := p.problems
	for _, e := range p.entries {
		if parent, ok := byKey[strings.ToLower(strings.TrimSpace(e.fields["crossref"]))]; ok && !strings.EqualFold(parent.key, e.key) {
			e.inherit(parent.fields)
		}
		w := e.work()
		works = append(works, w)
		problems = append(problems, w.lint(e.line)...)
	}
	slices.SortStableFunc(problems, func(a, b Problem) int { return a.Line - b.Line })
	return works, problems
}

// inherited are the fields that a part takes over from the volume it names as
// its crossref. Its own title and authors are never the volume's.
var inherited = []string{"journal", "journaltitle", "booktitle", "volume", "year", "date", "publisher", "school", "institution", "organization", "editor"}

func (e bibEntry) inherit(from map[string]string) {
	for _, name := range inherited {
		if e.fields[name] == "" {
			e.fields[name] = from[name]
		}
	}
	if e.fields["booktitle"] == "" {
		e.fields["booktitle"] = from["title"]
	}
}

func (e bibEntry) work() Work {
	first := func(names ...string) string {
		for _, n := range names {
			if v := plainTeX(e.fields[n]); v != "" {
				return v
			}
		}
		return ""
	}
	w := Work{Key: e.key, Kind: Other}
	if k, ok := bibKinds[e.kind]; ok {
		w.Kind = k
	}
	w.Title = first("title")
	w.Journal = first("journal", "journaltitle", "booktitle")
	w.Volume, w.Pages = first("volume"), reference.PageRange(first("pages"))
	w.Publisher = first("publisher", "school", "institution", "organization")
	w.Year = yearIn(first("year", "date"))
	w.DOI = reference.FindDOI(first("doi", "url"))
	w.Authors = bibAuthors(e.fields["author"])
	if len(w.Authors) == 0 {
		w.Authors = bibAuthors(e.fields["editor"])
	}
	return w
}

// fields reads "name = value, …" up to the closing sign, in order.
func (p *bibParser) fields() func(yield func(string, string) bool) {
	return func(yield func(string, string) bool) {
		for {
			p.space()
			if p.take(',') {
				continue
			}
			name := strings.ToLower(p.name())
			p.space()
			if name == "" || !p.take('=') {
				if !p.take('}') {
					p.take(')')
				}
				return
			}
			if !yield(name, p.value()) {
				return
			}
		}
	}
}

// value reads a value: parts joined by #.
func (p *bibParser) value() string {
	var b strings.Builder
	for {
		p.space()
		switch {
		case p.at >= len(p.s):
			return b.String()
		case p.s[p.at] == '{':
			b.WriteString(p.until('}'))
		case p.s[p.at] == '"':
			b.WriteString(p.until('"'))
		default:
			name := p.name()
			if v, ok := p.macros[strings.ToLower(name)]; ok {
				name = v
			}
			b.WriteString(name)
		}
		p.space()
		if !p.take('#') {
			return b.String()
		}
	}
}

// until reads the rest of a value whose opening sign is at p.at, braces inside
// balanced and backslashes kept.
func (p *bibParser) until(end byte) string {
	p.at++
	start, depth := p.at, 0
	for ; p.at < len(p.s); p.at++ {
		switch c := p.s[p.at]; {
		case c == '\\' && p.at+1 < len(p.s):
			p.at++
		case depth == 0 && c == end:
			p.at++
			return p.s[start : p.at-1]
		case c == '{':
			depth++
		case c == '}':
			depth--
		}
	}
	return p.s[start:]
}

func (p *bibParser) name() string {
	start := p.at
	for p.at < len(p.s) && !strings.ContainsRune(" \t\r\n{}(),=#\"@", rune(p.s[p.at])) {
		p.at++
	}
	return p.s[start:p.at]
}

func (p *bibParser) space() {
	for p.at < len(p.s) && strings.IndexByte(" \t\r\n", p.s[p.at]) >= 0 {
		p.at++
	}
}

func (p *bibParser) take(c byte) bool {
	if p.at < len(p.s) && p.s[p.at] == c {
		p.at++
		return true
	}
	return false
}

// bibAuthors splits a list at "and" outside braces. A name that is all in
// braces is an institution's.
func bibAuthors(s string) []reference.Author {
	var out []reference.Author
	for _, name := range splitAnd(s) {
		plain := plainTeX(name)
		switch {
		case plain == "" || plain == "others":
		case strings.HasPrefix(name, "{") && strings.HasSuffix(name, "}"):
			out = append(out, reference.Author{Family: plain})
		default:
			if a, ok := reference.ListedAuthor(plain); ok {
				out = append(out, a)
			}
		}
	}
	return out
}

func splitAnd(s string) []string {
	var out []string
	depth, start := 0, 0
	s = strings.Join(strings.Fields(s), " ")
	for i := 0; i < len(s); i++ {
		switch s[i] {
		case '\\':
			i++
		case '{':
			depth++
		case '}':
			depth--
		case ' ':
			if depth == 0 && len(s) >= i+5 && strings.EqualFold(s[i:i+5], " and ") {
				out = append(out, strings.TrimSpace(s[start:i]))
				start = i + 5
				i += 4
			}
		}
	}
	return append(out, strings.TrimSpace(s[min(start, len(s)):]))
}
