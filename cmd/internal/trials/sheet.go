package trials

import (
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/stream"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/trialprint"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/trial/bench"
)

func sheetCommand(at *library.Place) *cobra.Command {
	var to string
	paper := usage.Choice{Value: "a4", Allowed: []string{"a4", "letter"}}
	cmd := &cobra.Command{
		Use:   "sheet ID",
		Short: "bench sheets and dish labels to print, or a CSV sheet to fill in",
		Long: `Writes the bench sheets of a trial as one HTML page to print: the handling steps by day, where
each dish stands, a count sheet for each look under blind labels, and labels to cut. With
--format csv it writes the sheet that 'trial record' takes back: dish, date and eggs filled in,
the counts empty. ID may also be a file that 'trial plan --format json' wrote.`,
		Example: `  hatchlore trial sheet lirrobranchus --paper letter --to bench.html
  hatchlore trial sheet lirrobranchus --format csv --to counts.csv`,
		Args: usage.One("the trial's id in 'hatchlore trial list'"),
	}
	cmd.Flags().StringVar(&to, "to", "", "file to write (default standard output)")
	cmd.Flags().Var(&paper, "paper", "size of the paper: a4, letter")
	format := usage.FormatFlag(cmd, listing.HTML, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		p, _, err := planOf(cmd, at, args[0])
		if err != nil {
			return err
		}
		return stream.Write(cmd.OutOrStdout(), to, func(w io.Writer) error {
			if *format == listing.CSV {
				return bench.WriteCountSheet(w, p)
			}
			size, _ := bench.PaperNamed(paper.Value)
			return bench.WriteSheets(w, p, size)
		})
	}
	return cmd
}

func calendarCommand(at *library.Place) *cobra.Command {
	var to string
	cmd := &cobra.Command{
		Use:   "calendar ID",
		Short: "the handling days as an .ics file for a calendar program",
		Long: `Writes each day's handling as an all-day event of an iCalendar file (RFC 5545). Written again, the
events replace those of before. ID may also be a file that 'trial plan --format json' wrote.`,
		Example: `  hatchlore trial calendar lirrobranchus --to trial.ics`,
		Args:    usage.One("the trial's id in 'hatchlore trial list'"),
	}
	cmd.Flags().StringVar(&to, "to", "", "file to write (default standard output)")
	format := usage.FormatFlag(cmd, formatICS, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		p, _, err := planOf(cmd, at, args[0])
		if err != nil {
			return err
		}
		return stream.Write(cmd.OutOrStdout(), to, func(w io.Writer) error {
			if *format == formatICS {
				return bench.WriteCalendar(w, p, time.Now())
			}
			return listing.Emit(w, *format, bench.Agenda(p), func(w io.Writer, _ []bench.Task) error {
				fmt.Fprintf(w, "trial %s: %s\n\n", p.Trial, p.Taxon)
				return trialprint.Calendar(p).Print(w, 0, terminal.Width(w))
			})
		})
	}
	return cmd
}

// formatICS is a calendar by RFC 5545.
const formatICS = "ics"
