package bibliography

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"hatchlore/ingest/charset"
	"hatchlore/ingest/reference"
)

// risKinds are the types of the published RIS tag specification that matter
// here; all others are read as [Other].
var risKinds = map[string]Kind{
	"JOUR": Article, "JFULL": Article, "MGZN": Article, "EJOUR": Article, "ABST": Article,
	"BOOK": Book, "EBOOK": Book, "EDBOOK": Book,
	"CHAP": Chapter, "ECHAP": Chapter, "CONF": Chapter, "CPAPER": Chapter,
	"THES": Thesis, "RPRT": Report, "GEN": Other,
}

// ReadRIS reads a RIS file: tags of two characters, two spaces, a hyphen and a
// space; a line without a tag continues the one before it. The error is the
// reader's; what is wrong in the file is a [Problem].
func ReadRIS(r io.Reader) ([]Work, []Problem, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, nil, fmt.Errorf("reading RIS: %w", err)
	}
	var works []Work
	var problems []Problem
	var rec *risRecord
	finish := func() {
		w := rec.work()
		problems = append(problems, w.lint(rec.line)...)
		works = append(works, w)
		rec = nil
	}
	n := 0
	for line := range strings.Lines(charset.Text(data)) {
		n++
		line = strings.TrimRight(line, " \t\n")
		tag, value, ok := risTag(line)
		switch {
		case !ok:
			if rec != nil && line != "" {
				rec.extend(strings.TrimSpace(line))
			}
		case tag == "TY":
			if rec != nil {
				problems = append(problems, Problem{rec.line, "record without an end (ER)"})
				finish()
			}
			rec = &risRecord{line: n, kind: value, values: map[string][]string{}}
		case rec == nil:
			problems = append(problems, Problem{n, fmt.Sprintf("tag %s outside a record", tag)})
		case tag == "ER":
			finish()
		default:
			rec.add(tag, value)
		}
	}
	if rec != nil {
		problems = append(problems, Problem{rec.line, "record without an end (ER)"})
		finish()
	}
	return works, problems, nil
}

// risTag splits "AU  - Hallow, Joanna".
func risTag(line string) (tag, value string, ok bool) {
	if len(line) < 5 || line[2:5] != "  -" || line[0] < 'A' || line[0] > 'Z' ||
		!(line[1] >= 'A' && line[1] <= 'Z' || line[1] >= '0' && line[1] <= '9') {
		return "", "", false
	}
	return line[:2], strings.TrimSpace(line[5:]), true
}

type risRecord struct {
	line   int
	kind   string
	values map[string][]string
	last   string
}

func (r *risRecord) add(tag, value string) {
	r.values[tag] = append(r.values[tag], value)
	r.last = tag
}

func (r *risRecord) extend(more string) {
	if v := r.values[r.last]; len(v) > 0 {
		v[len(v)-1] += " " + more
	}
}

// first returns the first value of the first tag that has one.
func (r *risRecord) first(tags ...string) string {
	for _, t := range tags {
		for _, v := range r.values[t] {
			if v != "" {
				return v
			}
		}
	}
	return ""
}

func (r *risRecord) work() Work {
	w := Work{Kind: Other, Key: r.first("ID"), Publisher: r.first("PB")}
	if k, ok := risKinds[r.kind]; ok {
		w.Kind = k
	}
	for _, t := range []string{"AU", "A1"} {
		for _, v := range r.values[t] {
			if a, ok := reference.ListedAuthor(v); ok {
				w.Authors = append(w.Authors, a)
			}
		}
	}
	w.Title = r.first("TI", "T1", "CT", "BT")
	w.Journal = r.first("JF", "JO", "T2", "JA", "J2")
	w.Volume = r.first("VL")
	w.Pages = joinPages(reference.PageRange(r.first("SP")), reference.PageRange(r.first("EP")))
	w.Year = yearIn(r.first("PY", "Y1", "DA"))
	w.DOI = reference.FindDOI(r.first("DO", "M3", "UR"))
	return w
}

// WriteRIS writes works as RIS, with the line ends that it asks for.
func WriteRIS(w io.Writer, works []Work) error {
	b := bufio.NewWriter(w)
	for _, k := range works {
		line := func(tag, value string) {
			if value != "" {
				fmt.Fprintf(b, "%s  - %s\r\n", tag, strings.Join(strings.Fields(value), " "))
			}
		}
		line("TY", risType(k.Kind))
		line("ID", k.Key)
		for _, a := range k.Authors {
			if a.Given == "" {
				line("AU", a.Family+",")
			} else {
				line("AU", a.Family+", "+a.Given)
			}
		}
		if k.Year > 0 {
			line("PY", fmt.Sprint(k.Year))
		}
		first, last := splitPages(k.Pages)
		for _, v := range [][2]string{{"TI", k.Title}, {"T2", k.Journal}, {"VL", k.Volume}, {"SP", first}, {"EP", last}, {"PB", k.Publisher}, {"DO", k.DOI}} {
			line(v[0], v[1])
		}
		fmt.Fprint(b, "ER  - \r\n")
	}
	return b.Flush()
}

func risType(k Kind) string {
	switch k {
	case Article:
		return "JOUR"
	case Book:
		return "BOOK"
	case Chapter:
		return "CHAP"
	case Thesis:
		return "THES"
	case Report:
		return "RPRT"
	}
	return "GEN"
}
