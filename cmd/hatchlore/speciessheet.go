package main

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	text "text/template"
	"time"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	corpus "hatchlore/corpus-sample"
	"hatchlore/evidence"
	"hatchlore/query"
	"hatchlore/species"
)

var (
	//go:embed speciessheet.html
	speciesHTML string
	//go:embed speciessheet.md
	speciesMarkdown string
)

const formatMarkdown = "markdown"

func (a *app) speciesSheetCommand() *cobra.Command {
	var to string
	paper := choice{value: "a4", allowed: []string{"a4", "letter"}}
	cmd := &cobra.Command{
		Use:   "sheet TAXON",
		Short: "a page to hand on: conditions with sources, what is disputed and unknown, how sure, cautions",
		Long: `Writes what the library holds on TAXON as one page for the next keeper: cautions and permits
first, the conditions in short and then each with paper, page and words, what papers dispute and
what could explain it, what nobody tells, and by what rule each is called sure.`,
		Example: `  hatchlore species sheet "Lirrobranchus tessulatus" --to sheet.html
  hatchlore species sheet Lirrobranchus --format markdown`,
		Args: some("a species or genus"),
	}
	cmd.Flags().StringVar(&to, "to", "", "file to write (default standard output)")
	cmd.Flags().Var(&paper, "paper", "size of the paper: a4, letter")
	format := formatFlag(cmd, formatHTML, formatMarkdown)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return a.withLibrary(func(lib *library.Library) error {
			s, err := lib.Answers().Sheet(cmd.Context(), strings.Join(args, " "))
			if err != nil {
				return err
			}
			page := newSheetPage(s, time.Now(), string(papers[paper.value]))
			return withOutput(cmd, to, func(w io.Writer) error { return page.write(w, *format) })
		})
	}
	return cmd
}

// sheetPage is a sheet as the templates print it.
type sheetPage struct {
	query.Sheet
	Paper      template.CSS
	Count      string
	Day        string
	Conditions []sheetCondition
	Disputed   []sheetDispute
	Pooled     []string
	Open       []string
	Invented   []string // citations of papers of the sample
	HasTrials  bool
	SureRule   string
	ChartNote  string
}

type sheetCondition struct {
	query.Condition
	Scale string // of the bars, "" where there are none
	Lines []sheetLine
}

type sheetLine struct {
	Value, Bearing, Bar, Where, Notes, Quote string
	barred                                   bool
}

type sheetDispute struct {
	Question       string
	Sides          []sheetSide
	Reasons, Tried []string
}

type sheetSide struct {
	Head, Weight string
	Says         []sheetSaying
}

type sheetSaying struct{ Where, Quote string }

// sheetCells is how long a bar is on paper.
const sheetCells = 22

func newSheetPage(s query.Sheet, day time.Time, paper string) sheetPage {
	p := sheetPage{
		Sheet: s, Paper: template.CSS(paper), Count: count(s.Papers, "paper"), Day: day.Format("2 January 2006"),
		Pooled: pooledLines(s.Disputes.Pooled, s.Taxon), SureRule: query.SureRule, ChartNote: strings.ToUpper(chartNote[:1]) + chartNote[1:],
	}
	for _, c := range s.Conditions {
		p.Conditions = append(p.Conditions, conditionOf(c, s.Taxon))
	}
	for _, c := range s.Disputes.Conflicts {
		d := disputeOf(c, s.Disputes)
		p.HasTrials = p.HasTrials || len(d.Tried) > 0
		p.Disputed = append(p.Disputed, d)
	}
	for _, src := range s.Sources {
		if corpus.Holds(src.Hash) {
			p.Invented = append(p.Invented, src.Citation)
		}
	}
	for _, c := range s.Disputes.Open {
		p.Open = append(p.Open, c.Factor.Label())
	}
	return p
}

func conditionOf(c query.Condition, taxon string) sheetCondition {
	out := sheetCondition{Condition: c}
	chart, drawn := chartOf(c.Rows, sheetCells)
	if drawn {
		out.Scale = chart.scale()
	}
	for _, r := range c.Rows {
		l := sheetLine{
			Value: clean(claimValue(r.Claim)), Bearing: string(r.Bearing), Where: clean(r.Citation + ", p. " + rowPages(r)),
			Notes: clean(rowNotes(r, taxon)), Quote: clean(r.Quote), barred: drawn,
		}
		if drawn {
			l.Bar = chart.bar(r.Claim)
		}
		out.Lines = append(out.Lines, l)
	}
	return out
}

// Bars reports whether a line stands in a table with bars.
func (p sheetPage) Bars(l sheetLine) bool { return l.barred }

func disputeOf(c species.Conflict, d query.Disputes) sheetDispute {
	out := sheetDispute{Question: c.Question}
	for _, s := range c.Sides {
		side := sheetSide{Head: s.Value, Weight: weight(s)}
		if !strings.Contains(side.Head, string(s.Bearing)) {
			side.Head += ", " + string(s.Bearing)
		}
		seen := map[string]bool{}
		for _, say := range s.Says {
			// One quote a paper: all of them stand in the tables below.
			if seen[say.Paper] {
				continue
			}
			seen[say.Paper] = true
			where := fmt.Sprintf("%s, p. %d", say.Citation, say.Page)
			if say.Secondhand {
				where += ", second-hand"
			}
			if say.Stage != evidence.StageUnsaid {
				where += ", " + string(say.Stage)
			}
			side.Says = append(side.Says, sheetSaying{clean(where), clean(say.Quote)})
		}
		out.Sides = append(out.Sides, side)
	}
	for _, r := range c.Reasons {
		out.Reasons = append(out.Reasons, reasonWords[r.Kind]+": "+clean(r.Note))
	}
	for _, f := range d.Tried[c.ID] {
		out.Tried = append(out.Tried, fmt.Sprintf("%s: %s is %s (%s)", f.Trial, f.Side, f.Verdict.Verdict, f.Why))
	}
	return out
}

func (p sheetPage) write(w io.Writer, format string) error {
	if format == formatMarkdown {
		page, err := text.New("sheet").Funcs(text.FuncMap{"md": escapeMarkdown}).Parse(speciesMarkdown)
		if err != nil {
			return fmt.Errorf("species sheet: %w", err)
		}
		return page.Execute(w, p)
	}
	page, err := template.New("sheet").Parse(speciesHTML)
	if err != nil {
		return fmt.Errorf("species sheet: %w", err)
	}
	return page.Execute(w, p)
}

// markdownMarks are the characters that could mean something in CommonMark or
// in a table; every one of them may be escaped with a backslash, except the
// angle brackets and the ampersand, of which entities are plainer.
var markdownMarks = strings.NewReplacer("\\", "\\\\", "`", "\\`", "*", "\\*", "_", "\\_", "[", "\\[", "]", "\\]", "#", "\\#",
	"|", "\\|", "~", "\\~", "!", "\\!", "<", "&lt;", ">", "&gt;", "&", "&amp;", "\n", " ", "\r", " ")

func escapeMarkdown(s string) string { return markdownMarks.Replace(s) }
