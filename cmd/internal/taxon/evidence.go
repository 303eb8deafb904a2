package taxon

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	corpus "hatchlore/corpus-sample"
	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/query"
	"hatchlore/query/wording"
	"hatchlore/species/conflict"
	"hatchlore/species/table"
)

// Evidence is the command that prints the evidence table.
func Evidence(at *library.Place) *cobra.Command {
	var factors []string
	var borrow bool
	cmd := &cobra.Command{
		Use:   "evidence TAXON",
		Short: "what the papers say about a species or genus, factor by factor",
		Long: `Prints the evidence table of a species or genus: factor by factor each claim's value in one set of
units, as printed beside it where that differs, what it did to hatching, where it stands, and the
paper's words. What a paper says in several places is one row.

Marks say what to think of a row:
  second-hand           somebody else's finding, which the paper cites
  twice-read            two PDF readers printed the same figures
  counted               the per cent is worked out from the eggs that the paper counted
  implied               from a word that hides a number: "refrigerated"
  inferred              rests on a character that had to be repaired
  ocr                   read from a picture, and nobody has looked at it yet
  unsure                as likely misread as not: look at the page
  unit?                 in another unit it would be another paper's value, and no paper is near it
  accepted, amended     you have decided, see 'hatchlore claim'`,
		Example: `  hatchlore evidence "Lirrobranchus tessulatus"
  hatchlore evidence Lirrobranchus --factor drying --format csv`,
		Args: usage.Some("a species or genus"),
	}
	cmd.Flags().StringSliceVar(&factors, "factor", nil, "only these factors: "+strings.Join(usage.FactorIDs(), ", "))
	cmd.Flags().BoolVar(&borrow, "congeners", false, "also what is said of other species of the genus, marked as borrowed")
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		only, err := parseFactors(factors)
		if err != nil {
			return err
		}
		return at.Use(func(lib *library.Library) error {
			e, err := lib.Answers().Evidence(cmd.Context(), strings.Join(args, " "), borrow, only)
			if err != nil {
				return err
			}
			return listing.Emit(cmd.OutOrStdout(), *format, e.Rows, func(w io.Writer, _ []table.Row) error {
				return PrintEvidence(w, e)
			})
		})
	}
	return cmd
}

func parseFactors(ids []string) ([]evidence.Factor, error) {
	var out []evidence.Factor
	for _, id := range ids {
		f, err := usage.Factor("factor", id)
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	return out, nil
}

// PrintEvidence prints the evidence table: under each factor one row a claim,
// with what it says in canonical units, what it did, where it stands, and the
// paper's own words.
func PrintEvidence(w io.Writer, e query.Evidence) error {
	width := terminal.Width(w)
	st := terminal.StyleOf(w)
	charts := false
	for i, l := range terminal.Fold(e.Taxon+": "+trial.Plural(len(e.Rows), "different claim")+" from "+trial.Plural(e.Papers, "paper")+borrowed(e.Rows), width) {
		if i == 0 {
			l = strings.Replace(l, e.Taxon, st.Bold(e.Taxon), 1)
		}
		fmt.Fprintln(w, l)
	}
	printInvented(w, e.Taxon, width)
	for i := 0; i < len(e.Rows); {
		j := i
		for j < len(e.Rows) && e.Rows[j].Factor == e.Rows[i].Factor {
			j++
		}
		fmt.Fprintf(w, "\n%s\n", st.Bold(e.Rows[i].Factor.Label()))
		drawn, err := printRows(w, e.Rows[i:j], e, width)
		if err != nil {
			return err
		}
		charts = charts || drawn
		i = j
	}
	if len(e.Rows) == 0 {
		fmt.Fprintln(w, "no claims on these factors")
	}
	terminal.List(w, "hatched fraction over papers", pooledLines(e.Pooled, e.Taxon), 0, width)
	if charts {
		fmt.Fprintln(w)
		terminal.Paragraph(w, chartNote, 0, width)
	}
	return printNote(w, width)
}

// borrowed says how many of rows are of congeners, where any is.
func borrowed(rows []table.Row) string {
	n := 0
	for _, r := range rows {
		if r.Borrowed {
			n++
		}
	}
	switch n {
	case 0:
		return ""
	case len(rows):
		return ", all borrowed from congeners"
	}
	return fmt.Sprintf(", %d of them borrowed from congeners", n)
}

// printNote ends a table: a figure is not an instruction.
func printNote(w io.Writer, width int) error {
	_, err := fmt.Fprintf(w, "\n%s\n", strings.Join(terminal.Fold(wording.FiguresNote, width), "\n"))
	return err
}

// printRows prints the claims on one factor: a line of id, value, bearing,
// source and marks for each, and below it the paper's words. Where the width
// allows and there is something to compare, a bar shows where the value lies;
// drawn reports that.
func printRows(w io.Writer, rows []table.Row, e query.Evidence, width int) (drawn bool, err error) {
	g := &terminal.Grid{}
	chart, drawn := chartOf(rows, chartCells(width))
	drawn = drawn && width >= chartWidth
	line := func(id, value, bearing, bar, where, notes string) {
		if drawn {
			g.Add(id, value, bearing, bar, where, notes)
			return
		}
		g.Add(id, value, bearing, where, notes)
	}
	if drawn {
		line("", "", "", chart.scale(), "", "")
	}
	for _, r := range rows {
		where := r.Citation + ", p. " + rowPages(r)
		line(e.Short(r.ID), wording.ClaimValue(r.Claim), string(r.Bearing), chart.bar(r.Claim), where, wording.RowNotes(r, e.Taxon))
		g.Under(rowWords(r))
	}
	return drawn, g.Print(w, 2, width)
}

// rowPages lists the pages on which a row is told, each once.
func rowPages(r table.Row) string {
	pages := []int{r.Page}
	for _, p := range r.Also {
		pages = append(pages, p.Page)
	}
	return pageList(pages)
}

// pageList lists different page numbers in order.
func pageList(pages []int) string {
	slices.Sort(pages)
	var words []string
	for _, n := range slices.Compact(pages) {
		words = append(words, fmt.Sprint(n))
	}
	return strings.Join(words, ", ")
}

// rowWords are the paper's words in quotes, a table's row without.
func rowWords(r table.Row) string {
	return passageWords(conflict.Passage{Words: cmp.Or(r.Words, r.Quote), Table: r.Tabled})
}

const chartWidth = 90 // columns; narrower, a bar would crowd out the words

// chartCells is how long a bar is: enough to see an order, and no more.
func chartCells(width int) int { return min(max(width/6, 14), 28) }

// printInvented prints the note on an animal of the sample, in lines of their
// own.
func printInvented(w io.Writer, taxon string, width int) {
	if note := corpus.InventedNote(taxon); note != "" {
		terminal.Paragraph(w, note, 0, width)
	}
}
