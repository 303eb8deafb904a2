package taxon

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/query"
	"hatchlore/query/wording"
	"hatchlore/species/conflict"
	"hatchlore/species/pool"
)

// Conflicts is the command that prints the disagreements.
func Conflicts(at *library.Place) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "conflicts TAXON",
		Short: "where the papers disagree about a species or genus, side by side",
		Long: `Shows the disagreements about TAXON with the words of each side, how many papers stand there by
their own findings, and what could explain the disagreement away; then what nobody tells at
first hand.`,
		Example: `  hatchlore conflicts "Lirrobranchus tessulatus"`,
		Args:    usage.Some("a species or genus"),
	}
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return at.Use(func(lib *library.Library) error {
			d, err := lib.Answers().Conflicts(cmd.Context(), strings.Join(args, " "))
			if err != nil {
				return err
			}
			if *format == listing.CSV {
				return listing.WriteCSV(cmd.OutOrStdout(), conflictLines(slices.Concat(d.Conflicts, d.Open)))
			}
			return listing.Emit(cmd.OutOrStdout(), *format, slices.Concat(d.Conflicts, d.Open), func(w io.Writer, _ []conflict.Conflict) error {
				return PrintDisputes(w, d)
			})
		})
	}
	return cmd
}

// conflictLine is one side of a disagreement, or an open question that nobody speaks
// of, as a row of a spreadsheet.
type conflictLine struct {
	ID        string           `json:"id"`
	Taxon     string           `json:"taxon"`
	Factor    evidence.Factor  `json:"factor"`
	Kind      conflict.Kind    `json:"kind"`
	Question  string           `json:"question"`
	Side      string           `json:"side"` // A, B and so on
	Value     string           `json:"value"`
	Bearing   evidence.Bearing `json:"bearing"`
	Low       *float64         `json:"low"`
	High      *float64         `json:"high"`
	Unit      string           `json:"unit"`
	Firsthand int              `json:"firsthand"`
	Papers    []string         `json:"papers"`
	Torn      []string         `json:"torn"`
	Claims    []string         `json:"claims"`
	Reasons   []string         `json:"reasons"` // of the disagreement, on each of its sides
	Levels    []string         `json:"levels"`
}

func conflictLines(cs []conflict.Conflict) []conflictLine {
	out := []conflictLine{}
	for _, c := range cs {
		l := conflictLine{ID: c.ID, Taxon: c.Taxon, Factor: c.Factor, Kind: c.Kind, Question: c.Question}
		for _, r := range c.Reasons {
			l.Reasons = append(l.Reasons, wording.Reasons[r.Kind]+": "+r.Note)
		}
		for _, v := range c.Levels {
			l.Levels = append(l.Levels, v.Label)
		}
		l.Levels = slices.Compact(l.Levels)
		for i, s := range c.Sides {
			l.Side, l.Value, l.Bearing, l.Low, l.High, l.Unit = conflict.Letter(i), s.Value, s.Bearing, s.Low, s.High, s.Unit
			l.Firsthand, l.Papers, l.Torn, l.Claims = s.Firsthand, s.Papers, s.Torn, s.Claims
			out = append(out, l)
		}
		if len(c.Sides) == 0 {
			out = append(out, l)
		}
	}
	return out
}

// PrintDisputes shows disagreements, agreements and open questions for a person.
func PrintDisputes(w io.Writer, d query.Disputes) error {
	width := terminal.Width(w)
	st := terminal.StyleOf(w)
	if len(d.Conflicts) == 0 {
		fmt.Fprintf(w, "%s: no disagreement between papers\n", st.Bold(d.Taxon))
	} else {
		fmt.Fprintf(w, "%s: %s\n", st.Bold(d.Taxon), trial.Plural(len(d.Conflicts), "disagreement"))
	}
	printInvented(w, d.Taxon, width)
	for i, c := range d.Conflicts {
		if err := printConflict(w, st, i+1, c, d, width); err != nil {
			return err
		}
	}
	var agreed []string
	for _, a := range d.Agreed {
		agreed = append(agreed, fmt.Sprintf("%s: %s (%s)", a.Factor.Label(), a.Value, trial.Plural(len(a.Papers), "paper")))
	}
	terminal.List(w, "what first-hand papers share, of those that give a number or a word", agreed, 0, width)
	terminal.List(w, "hatched fraction over papers", pooledLines(d.Pooled, d.Taxon), 0, width)
	terminal.List(w, "open questions", openLines(d.Open), 0, width)
	if len(d.Conflicts) > 0 {
		fmt.Fprintln(w, "\norder")
		terminal.Paragraph(w, conflict.Rule, 2, width)
	}
	return printNote(w, width)
}

// openLines tells what nobody tells at first hand: what only hearsay speaks of
// by itself, and the factors of which there is nothing in one line.
func openLines(open []conflict.Conflict) []string {
	var out, silent []string
	for _, c := range open {
		if len(c.Sides) == 0 {
			silent = append(silent, c.Factor.Label())
			continue
		}
		var said []string
		for _, s := range c.Sides {
			said = append(said, sideHead(s)+" in "+strings.Join(wording.Citations(s), ", "))
		}
		out = append(out, c.Question+"; cited only: "+strings.Join(said, "; "))
	}
	if len(silent) > 0 {
		out = append(out, "no claim at all on "+strings.Join(silent, ", "))
	}
	return out
}

// pooledLines tells the hatched fractions that papers give together.
func pooledLines(pooled []pool.Pooled, taxon string) []string {
	lines := wording.PooledLines(pooled, taxon)
	for i, l := range lines {
		lines[i] = terminal.Clean(l)
	}
	return lines
}

func printConflict(w io.Writer, st terminal.Style, n int, c conflict.Conflict, d query.Disputes, width int) error {
	head := fmt.Sprintf("%d  %s", n, c.Question)
	if c.Taxon != d.Taxon {
		head += " (" + c.Taxon + ")"
	}
	fmt.Fprintln(w)
	for _, l := range terminal.Fold(head, width) {
		fmt.Fprintln(w, st.Bold(l))
	}
	fmt.Fprintf(w, "   %s\n   id %s\n", wording.Kinds[c.Kind], c.ID)
	if err := printSides(w, c.Sides, width); err != nil {
		return err
	}
	var elsewhere, reasons, tried []string
	for _, s := range c.Elsewhere {
		elsewhere = append(elsewhere, s.Letters()+": "+s.Value+" in "+strings.Join(wording.Citations(s.Side), ", "))
	}
	for _, r := range c.Reasons {
		reasons = append(reasons, wording.Reasons[r.Kind]+": "+r.Note)
	}
	for _, f := range d.Tried[c.ID] {
		tried = append(tried, fmt.Sprintf("%s: %s is %s (%s)", wording.Trial(f.Trial, f.Keeper), f.Side, f.Verdict.Verdict, f.Why))
	}
	for _, part := range []struct {
		head      string
		sentences []string
	}{
		{"where else these saw eggs hatch", elsewhere}, {"what could explain it", reasons},
		{"what trials say", tried}, {"a trial would set", wouldSet(c)},
	} {
		if err := terminal.List(w, part.head, part.sentences, 3, width); err != nil {
			return err
		}
	}
	return nil
}

// wouldSet says at which levels a trial would settle a conflict.
func wouldSet(c conflict.Conflict) []string {
	var levels []string
	for _, l := range c.Levels {
		levels = append(levels, l.Label)
	}
	switch {
	case len(levels) > 0:
		// Sides that dispute one value share the level that tests it.
		return []string{strings.Join(slices.Compact(levels), " | ")}
	case slices.ContainsFunc(c.Reasons, func(r conflict.Reason) bool { return r.Kind == conflict.UnitSlip }):
		return []string{"nothing: see the unit above, and do not put eggs at such a value"}
	}
	return nil
}

// sideWidth is the narrowest column in which a quote can still be read.
const sideWidth = 34

// printSides lays the sides out beside each other where the width allows, a
// few at a time.
func printSides(w io.Writer, sides []conflict.Side, width int) error {
	const indent = 3
	across := max(1, min(len(sides), (width-indent)/(sideWidth+terminal.Gap)))
	shown := 0
	for part := range slices.Chunk(sides, across) {
		each := (width - indent - terminal.Gap*(len(part)-1)) / len(part)
		columns := make([][]string, len(part))
		for i, s := range part {
			columns[i] = sideLines(conflict.Letter(shown+i), s, each)
		}
		shown += len(part)
		if err := terminal.Beside(w, columns, indent, each); err != nil {
			return err
		}
	}
	return nil
}

// mostPassages is how many places of one paper a side shows before it only
// names their pages: who wants all of them has the evidence table.
const mostPassages = 2

// sideLines are the lines of one side: its letter, value and weight, then each
// source with its words.
func sideLines(letter string, s conflict.Side, width int) []string {
	lines := append(terminal.Fold(letter+": "+sideHead(s), width), terminal.Fold(wording.Weight(s), width)...)
	for _, of := range byPaper(s.Passages()) {
		for _, p := range of[:min(mostPassages, len(of))] {
			lines = append(lines, terminal.Fold(passageWhere(p)+":", width)...)
			lines = append(lines, inset(passageWords(p), width)...)
		}
		if more := of[min(mostPassages, len(of)):]; len(more) > 0 {
			lines = append(lines, inset("and "+trial.Plural(len(more), "more place")+" there, p. "+pagesOf(more), width)...)
		}
	}
	return lines
}

// inset folds text with two blanks before each line.
func inset(text string, width int) []string {
	lines := terminal.Fold(text, width-2)
	for i, l := range lines {
		lines[i] = "  " + l
	}
	return lines
}

// sideHead names a side by its value and what that did.
func sideHead(s conflict.Side) string {
	if s.Stands() || strings.Contains(s.Value, string(s.Bearing)) {
		return s.Value
	}
	return s.Value + ", " + string(s.Bearing)
}

// byPaper parts passages that stand in the order of their papers.
func byPaper(ps []conflict.Passage) [][]conflict.Passage {
	var out [][]conflict.Passage
	for _, p := range ps {
		if n := len(out); n > 0 && out[n-1][0].Paper == p.Paper {
			out[n-1] = append(out[n-1], p)
			continue
		}
		out = append(out, []conflict.Passage{p})
	}
	return out
}

// passageWhere cites a passage and says what must be known to weigh it.
func passageWhere(p conflict.Passage) string {
	where := fmt.Sprintf("%s, p. %d", p.Citation, p.Page)
	if p.Secondhand {
		where += ", second-hand"
	}
	if p.Stage == evidence.StageEmergence {
		where += ", emergence"
	}
	return where
}

// passageWords are the paper's words in quotes, a table's row without.
func passageWords(p conflict.Passage) string {
	if p.Table {
		return "table: " + p.Words
	}
	return "“" + p.Words + "”"
}

// pagesOf lists the pages of passages, each once.
func pagesOf(ps []conflict.Passage) string {
	var pages []int
	for _, p := range ps {
		pages = append(pages, p.Page)
	}
	return pageList(pages)
}
