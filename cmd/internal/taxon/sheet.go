package taxon

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"
	text "text/template"
	"time"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/stream"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	corpus "hatchlore/corpus-sample"
	"hatchlore/evidence"
	"hatchlore/evidence/trial/bench"
	"hatchlore/query"
	"hatchlore/query/wording"
	"hatchlore/species/conflict"
	"hatchlore/species/pool"
)

var (
	//go:embed sheet.html
	speciesHTML string
	//go:embed sheet.md
	speciesMarkdown string
)

const formatMarkdown = "markdown"

func sheetCommand(at *library.Place) *cobra.Command {
	var to string
	paper := usage.Choice{Value: "a4", Allowed: []string{"a4", "letter"}}
	cmd := &cobra.Command{
		Use:   "sheet TAXON",
		Short: "a sheet to hand on: conditions with sources, where papers disagree, what nobody tells, how sure, cautions",
		Long: `Writes what the library holds on TAXON as a sheet for the next keeper: on its first pages cautions
and permits, the conditions in short with their sources, where papers disagree and what could
explain it, what trials say, what nobody tells, and by what rule each is called sure; behind them
every condition with paper, page and words.`,
		Example: `  hatchlore species sheet "Lirrobranchus tessulatus" --to sheet.html
  hatchlore species sheet Lirrobranchus --format markdown`,
		Args: usage.Some("a species or genus"),
	}
	cmd.Flags().StringVar(&to, "to", "", "file to write (default standard output)")
	cmd.Flags().Var(&paper, "paper", "size of the paper: a4, letter")
	format := usage.FormatFlag(cmd, listing.HTML, formatMarkdown)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return at.Use(func(lib *library.Library) error {
			s, err := lib.Answers().Sheet(cmd.Context(), strings.Join(args, " "))
			if err != nil {
				return err
			}
			size, _ := bench.PaperNamed(paper.Value)
			page := newSheetPage(s, time.Now(), size)
			return stream.Write(cmd.OutOrStdout(), to, func(w io.Writer) error { return page.write(w, *format) })
		})
	}
	return cmd
}

// WriteSheet writes a sheet as one HTML page to print.
func WriteSheet(w io.Writer, s query.Sheet, day time.Time, paper bench.Paper) error {
	return newSheetPage(s, day, paper).write(w, listing.HTML)
}

// sheetPage is a sheet as the templates print it.
type sheetPage struct {
	query.Sheet
	Paper      template.CSS
	ToldBy     string
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
	Hatched, Failed, NoMatter string // values with the numbers of their sources
	Scale                     string // of the bars, "" where there are none
	Lines                     []sheetLine
}

type sheetLine struct {
	Value, Bearing, Bar, Where, Notes, Words string
	barred                                   bool
}

type sheetDispute struct {
	Question       string
	Sides          []sheetSide
	Reasons, Tried []string
}

type sheetSide struct{ Head, Weight, Sources string }

// sheetCells is how long a bar is on paper.
const sheetCells = 22

func newSheetPage(s query.Sheet, day time.Time, paper bench.Paper) sheetPage {
	p := sheetPage{
		Sheet: s, Paper: template.CSS(paper), ToldBy: toldBy(s.Papers, s.Firsthand), Day: day.Format("2 January 2006"),
		Pooled: pooledLines(worthTelling(s.Disputes.Pooled), s.Taxon), SureRule: query.SureRule, ChartNote: strings.ToUpper(chartNote[:1]) + chartNote[1:],
	}
	for _, c := range s.Conditions {
		p.Conditions = append(p.Conditions, conditionOf(c, s.Taxon))
	}
	for _, c := range s.Disputes.Conflicts {
		d := disputeOf(c, s)
		for _, f := range s.Disputes.Tried[c.ID] {
			p.HasTrials = p.HasTrials || f.Keeper == ""
		}
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

// toldBy says how many papers tell of a taxon, and how many of them found it
// themselves.
func toldBy(papers, own int) string {
	switch {
	case papers == 1 && own == 1:
		return "one paper tells them by its own findings"
	case papers == 1:
		return "one paper tells them that only cites others"
	case own == papers:
		return fmt.Sprintf("%d papers tell them, all by their own findings", papers)
	}
	if own == 1 {
		return fmt.Sprintf("%d papers tell them, one of these by its own findings", papers)
	}
	return fmt.Sprintf("%d papers tell them, %d of these by their own findings", papers, own)
}

// worthTelling are the fractions that several papers counted, or, where none is,
// the first with the reason.
func worthTelling(all []pool.Pooled) []pool.Pooled {
	var out []pool.Pooled
	for _, p := range all {
		if p.Compares() {
			out = append(out, p)
		}
	}
	if len(out) == 0 {
		return all[:min(1, len(all))]
	}
	return out
}

func conditionOf(c query.Condition, taxon string) sheetCondition {
	out := sheetCondition{Condition: c}
	for _, e := range c.Told {
		text := strings.Join(e.Values, "; ") + " " + sourceNumbers(e.Sources)
		if e.Cited {
			text += ", cited only"
		}
		switch e.Bearing {
		case evidence.Favours:
			out.Hatched = text
		case evidence.Prevents:
			out.Failed = text
		case evidence.Indifferent:
			out.NoMatter = text
		default:
			out.Hatched = "tested or met with: " + text
		}
	}
	chart, drawn := chartOf(c.Rows, sheetCells)
	if drawn {
		out.Scale = chart.scale()
	}
	for _, r := range c.Rows {
		l := sheetLine{
			Value: terminal.Clean(wording.ClaimValue(r.Claim)), Bearing: string(r.Bearing), Where: terminal.Clean(r.Citation + ", p. " + rowPages(r)),
			Notes: terminal.Clean(wording.RowNotes(r, taxon)), Words: terminal.Clean(rowWords(r)), barred: drawn,
		}
		if drawn {
			l.Bar = chart.bar(r.Claim)
		}
		out.Lines = append(out.Lines, l)
	}
	return out
}

// sourceNumbers cites sources by their numbers: "[1, 4]", and "[2 to 7]" for
// three or more in a row.
func sourceNumbers(ns []int) string {
	var words []string
	for i := 0; i < len(ns); {
		j := i
		for j+1 < len(ns) && ns[j+1] == ns[j]+1 {
			j++
		}
		switch j - i {
		case 0:
			words = append(words, fmt.Sprint(ns[i]))
		case 1:
			words = append(words, fmt.Sprint(ns[i]), fmt.Sprint(ns[j]))
		default:
			words = append(words, fmt.Sprintf("%d to %d", ns[i], ns[j]))
		}
		i = j + 1
	}
	return "[" + strings.Join(words, ", ") + "]"
}

// Bars reports whether a line stands in a table with bars.
func (p sheetPage) Bars(l sheetLine) bool { return l.barred }

func disputeOf(c conflict.Conflict, s query.Sheet) sheetDispute {
	out := sheetDispute{Question: c.Question}
	for i, side := range c.Sides {
		out.Sides = append(out.Sides, sheetSide{terminal.Clean(conflict.Letter(i) + ": " + sideHead(side)), wording.Weight(side), sourceNumbers(s.Numbers(side.Papers))})
	}
	out.Reasons = reasonsByKind(c.Reasons)
	for _, f := range s.Disputes.Tried[c.ID] {
		out.Tried = append(out.Tried, fmt.Sprintf("%s: %s is %s (%s)", wording.Trial(f.Trial, f.Keeper), f.Side, f.Verdict.Verdict, f.Why))
	}
	return out
}

// reasonsByKind tells reasons in a line a kind.
func reasonsByKind(rs []conflict.Reason) []string {
	var kinds, out []string
	for _, r := range rs {
		i := slices.Index(kinds, wording.Reasons[r.Kind])
		if i < 0 {
			kinds = append(kinds, wording.Reasons[r.Kind])
			out = append(out, wording.Reasons[r.Kind]+": "+terminal.Clean(r.Note))
			continue
		}
		out[i] += "; " + terminal.Clean(r.Note)
	}
	return out
}

func (p sheetPage) write(w io.Writer, format string) error {
	if format == formatMarkdown {
		page, err := text.New("sheet").Funcs(text.FuncMap{"md": escapeMarkdown, "number": func(i int) int { return i + 1 }}).Parse(speciesMarkdown)
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
