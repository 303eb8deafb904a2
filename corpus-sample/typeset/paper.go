package main

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"

	corpus "hatchlore/corpus-sample"
	"hatchlore/evidence"
)

// Kind says how a block of a paper is set.
type Kind string

const (
	Heading    Kind = "heading"
	Subheading Kind = "subheading"
	Paragraph  Kind = "paragraph"
	Abstract   Kind = "abstract"
	Reference  Kind = "reference"
	Table      Kind = "table"
	Figure     Kind = "figure"
)

// Block is one heading, paragraph, table or figure, with its labelled claims.
type Block struct {
	Kind   Kind
	Text   string     // marked-up words; a table's or figure's caption
	Rows   [][]string // of a table, the head first
	Axes   Axes       // of a figure
	Claims []corpus.Claim
	Line   int // where it begins in its source
	Lang   string
}

var labels = map[string]map[Kind]string{
	"en": {Table: "Table", Figure: "Figure"},
	"fr": {Table: "Tableau", Figure: "Figure"},
	"de": {Table: "Tabelle", Figure: "Abbildung"},
}

// Caption is a table's or figure's label, as "Table 1.", and its words.
func (b *Block) Caption() (label, words string) {
	n, words, _ := strings.Cut(b.Text, ". ")
	return labels[b.Lang][b.Kind] + " " + n + ".", words
}

// Axes is a figure: one line through points between two scales.
type Axes struct {
	XLabel, YLabel string
	XMax, YMax     float64
	Series         [][]Point
}

// Point is one mark in a figure.
type Point struct{ X, Y float64 }

// Paper is one source file: fields at the head, then blocks.
type Paper struct {
	Name   string // file name without its ending, as "haldersby-1962"
	Fields map[string]string
	Taxa   map[string]string
	Blocks []Block
}

// Field returns a head field, "" when absent.
func (p *Paper) Field(name string) string { return p.Fields[name] }

// ReadAll reads every paper source in folder, in the order of their ids.
func ReadAll(folder string) ([]*Paper, error) {
	files, err := filepath.Glob(filepath.Join(folder, "*.paper"))
	if err != nil {
		return nil, err
	}
	var papers []*Paper
	for _, f := range files {
		p, err := Read(f)
		if err != nil {
			return nil, err
		}
		papers = append(papers, p)
	}
	sort.Slice(papers, func(i, j int) bool { return papers[i].Field("id") < papers[j].Field("id") })
	return papers, nil
}

// Read parses one paper source. A paragraph is one or more lines up to a
// blank line; lines that start with @ label the block above them.
func Read(path string) (*Paper, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	p := &Paper{
		Name:   strings.TrimSuffix(filepath.Base(path), ".paper"),
		Fields: map[string]string{}, Taxa: map[string]string{},
	}
	r := reader{paper: p}
	sc := bufio.NewScanner(f)
	sc.Buffer(nil, 1<<20)
	for sc.Scan() {
		r.line++
		if err := r.take(strings.TrimRight(sc.Text(), " ")); err != nil {
			return nil, fmt.Errorf("%s:%d: %w", filepath.Base(path), r.line, err)
		}
	}
	if err := sc.Err(); err != nil {
		return nil, err
	}
	r.close()
	return p, nil
}

type reader struct {
	paper   *Paper
	line    int
	inBody  bool
	section Kind // what a paragraph under the last heading is
	open    []string
	opened  int
}

func (r *reader) take(line string) error {
	if !r.inBody {
		return r.field(line)
	}
	switch {
	case line == "":
		r.close()
	case strings.HasPrefix(line, "=== "):
		r.close()
		r.add(Block{Kind: Subheading, Text: line[4:]})
	case strings.HasPrefix(line, "== "):
		r.close()
		r.heading(line[3:])
	case strings.HasPrefix(line, ":table "), strings.HasPrefix(line, ":figure "):
		r.close()
		kind, caption, _ := strings.Cut(line[1:], " ")
		r.add(Block{Kind: Kind(kind), Text: caption})
	case strings.HasPrefix(line, "| "):
		return r.row(line[2:])
	case strings.HasPrefix(line, ":axes "):
		return r.axes(line[6:])
	case strings.HasPrefix(line, ":points "):
		return r.points(line[8:])
	case strings.HasPrefix(line, "@ "):
		r.close()
		return r.claim(line[2:])
	default:
		if len(r.open) == 0 {
			r.opened = r.line
		}
		r.open = append(r.open, line)
	}
	return nil
}

func (r *reader) field(line string) error {
	if line == "---" {
		r.inBody, r.section = true, Paragraph
		return nil
	}
	name, value, ok := strings.Cut(line, ": ")
	if !ok {
		return fmt.Errorf("head field without a value: %q", line)
	}
	if name == "taxon" {
		short, full, ok := strings.Cut(value, " = ")
		if !ok {
			return fmt.Errorf("taxon wants SHORT = Name, not %q", value)
		}
		r.paper.Taxa[short] = full
		return nil
	}
	r.paper.Fields[name] = value
	return nil
}

func (r *reader) heading(text string) {
	r.section = Paragraph
	switch text {
	case "Abstract", "Summary", "Zusammenfassung", "Résumé":
		r.section = Abstract
	case "References", "Literature cited", "Literature", "Literatur", "Bibliographie", "Further reading":
		r.section = Reference
	}
	r.add(Block{Kind: Heading, Text: text})
}

func (r *reader) add(b Block) {
	b.Line, b.Lang = r.line, r.paper.Field("lang")
	r.paper.Blocks = append(r.paper.Blocks, b)
}

func (r *reader) close() {
	if len(r.open) == 0 {
		return
	}
	b := Block{Kind: r.section, Lang: r.paper.Field("lang"), Text: strings.Join(r.open, " "), Line: r.opened}
	r.paper.Blocks = append(r.paper.Blocks, b)
	r.open = nil
}

func (r *reader) last(kinds ...Kind) (*Block, error) {
	if n := len(r.paper.Blocks); n > 0 {
		b := &r.paper.Blocks[n-1]
		for _, k := range kinds {
			if b.Kind == k {
				return b, nil
			}
		}
	}
	return nil, fmt.Errorf("this line belongs below a %v", kinds)
}

func (r *reader) row(line string) error {
	b, err := r.last(Table)
	if err != nil {
		return err
	}
	cells := strings.Split(line, "|")
	for i := range cells {
		cells[i] = strings.TrimSpace(cells[i])
	}
	if len(b.Rows) > 0 && len(cells) != len(b.Rows[0]) {
		return fmt.Errorf("row has %d cells, the head %d", len(cells), len(b.Rows[0]))
	}
	b.Rows = append(b.Rows, cells)
	return nil
}

// axes takes "xmax xlabel; ymax ylabel".
func (r *reader) axes(line string) error {
	b, err := r.last(Figure)
	if err != nil {
		return err
	}
	x, y, ok := strings.Cut(line, "; ")
	if !ok {
		return fmt.Errorf("axes want XMAX LABEL; YMAX LABEL")
	}
	xm, xl, _ := strings.Cut(x, " ")
	ym, yl, _ := strings.Cut(y, " ")
	b.Axes.XLabel, b.Axes.YLabel = xl, yl
	if b.Axes.XMax, err = strconv.ParseFloat(xm, 64); err != nil {
		return err
	}
	b.Axes.YMax, err = strconv.ParseFloat(ym, 64)
	return err
}

// points takes "x,y x,y …": one series.
func (r *reader) points(line string) error {
	b, err := r.last(Figure)
	if err != nil {
		return err
	}
	var series []Point
	for _, f := range strings.Fields(line) {
		var p Point
		if _, err := fmt.Sscanf(f, "%g,%g", &p.X, &p.Y); err != nil {
			return fmt.Errorf("point %q: %w", f, err)
		}
		series = append(series, p)
	}
	b.Axes.Series = append(b.Axes.Series, series)
	return nil
}

// claim takes "TAXON FACTOR BEARING VALUE… [2nd] :: quote", VALUE being
// LOW..HIGH UNIT, a category, or both. A taxon of - is none. A paper that says
// what it counted has that stage for all that it found itself, save where a
// line says emergence.
func (r *reader) claim(line string) error {
	b, err := r.last(Paragraph, Abstract, Table, Figure)
	if err != nil {
		return err
	}
	head, quote, ok := strings.Cut(line, " :: ")
	f := strings.Fields(head)
	if !ok || len(f) < 4 {
		return fmt.Errorf("claim wants TAXON FACTOR BEARING VALUE :: quote, not %q", line)
	}
	c := corpus.Claim{Factor: evidence.Factor(f[1]), Bearing: evidence.Bearing(f[2]), Quote: plain(quote)}
	if f[0] != "-" {
		if c.Taxon, ok = r.paper.Taxa[f[0]]; !ok {
			return fmt.Errorf("taxon %q is not in the head", f[0])
		}
	}
	for _, w := range f[3:] {
		if err := value(&c, w); err != nil {
			return err
		}
	}
	if c.Stage == "" && !c.Secondhand && c.Bearing != evidence.Reported {
		c.Stage = evidence.Stage(r.paper.Field("counted"))
	}
	if text := b.Plain(); !strings.Contains(text, c.Quote) {
		return fmt.Errorf("quote is not in the text above: %q", c.Quote)
	}
	b.Claims = append(b.Claims, c)
	return nil
}

var units = map[string]bool{"d": true, "degC": true, "uS/cm": true, "g/L": true, "1": true, "mg/L": true, "%sat": true, "h": true, "%": true}

func value(c *corpus.Claim, word string) error {
	number := c.Low != nil || c.High != nil
	switch {
	case word == "2nd":
		c.Secondhand = true
	case word == string(evidence.StageEmergence):
		c.Stage = evidence.StageEmergence
	case number && c.Unit == "" && units[word]:
		c.Unit = word
	case !number && strings.ContainsAny(word[:1], "-.0123456789") && !strings.Contains(word, ":"):
		return numbers(c, word)
	default:
		c.Category = word
	}
	return nil
}

func numbers(c *corpus.Claim, word string) error {
	low, high, ranged := strings.Cut(word, "..")
	if !ranged {
		high = low
	}
	for _, end := range []struct {
		s  string
		to **float64
	}{{low, &c.Low}, {high, &c.High}} {
		if end.s == "" {
			continue
		}
		v, err := strconv.ParseFloat(end.s, 64)
		if err != nil {
			return fmt.Errorf("value %q: %w", word, err)
		}
		*end.to = &v
	}
	return nil
}

// Plain is the block as printed: no markup, a table's rows after its caption.
func (b *Block) Plain() string {
	s := plain(b.Text)
	if b.Kind == Table || b.Kind == Figure {
		label, words := b.Caption()
		s = label + " " + plain(words)
	}
	for _, row := range b.Rows {
		s += "\n" + plain(strings.Join(row, " "))
	}
	return s
}

var unmark = strings.NewReplacer("*", "", "~", "", "\u00a0", " ")

func plain(s string) string { return unmark.Replace(s) }
