package main

import (
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

	"hatchlore/evidence/trial/bench"
)

func (a *app) trialSheetCommand() *cobra.Command {
	var to string
	paper := choice{value: "a4", allowed: []string{"a4", "letter"}}
	cmd := &cobra.Command{
		Use:   "sheet ID",
		Short: "bench sheets and dish labels to print, or a CSV sheet to fill in",
		Long: `Writes the bench sheets of a trial as one HTML page to print: the handling steps by day, where
each dish stands, a count sheet for each look under blind labels, and labels to cut. With
--format csv it writes the sheet that 'trial record' takes back: dish, date and eggs filled in,
the counts empty. ID may also be a file that 'trial plan --format json' wrote.`,
		Example: `  hatchlore trial sheet lirrobranchus --paper letter --to bench.html
  hatchlore trial sheet lirrobranchus --format csv --to counts.csv`,
		Args: one("the trial's id in 'hatchlore trial list'"),
	}
	cmd.Flags().StringVar(&to, "to", "", "file to write (default standard output)")
	cmd.Flags().Var(&paper, "paper", "size of the paper: a4, letter")
	format := formatFlag(cmd, formatHTML, formatCSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		p, _, err := a.planOf(cmd, args[0])
		if err != nil {
			return err
		}
		return withOutput(cmd, to, func(w io.Writer) error {
			if *format == formatCSV {
				return bench.WriteCountSheet(w, p)
			}
			return bench.WriteSheets(w, p, papers[paper.value])
		})
	}
	return cmd
}

// formatHTML is the format of what is printed on paper.
const formatHTML = "html"

var papers = map[string]bench.Paper{"a4": bench.A4, "letter": bench.Letter}

func (a *app) trialCalendarCommand() *cobra.Command {
	var to string
	cmd := &cobra.Command{
		Use:   "calendar ID",
		Short: "the handling days as an .ics file for a calendar program",
		Long: `Writes each day's handling as an all-day event of an iCalendar file (RFC 5545). Written again, the
events replace those of before. ID may also be a file that 'trial plan --format json' wrote.`,
		Example: `  hatchlore trial calendar lirrobranchus --to trial.ics`,
		Args:    one("the trial's id in 'hatchlore trial list'"),
	}
	cmd.Flags().StringVar(&to, "to", "", "file to write (default standard output)")
	format := formatFlag(cmd, formatICS, formatTable, formatJSONL, formatCSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		p, _, err := a.planOf(cmd, args[0])
		if err != nil {
			return err
		}
		return withOutput(cmd, to, func(w io.Writer) error {
			if *format == formatICS {
				return bench.WriteCalendar(w, p, time.Now())
			}
			return emit(w, *format, bench.Agenda(p), func(w io.Writer, _ []bench.Task) error {
				fmt.Fprintf(w, "trial %s: %s\n\n", p.Trial, p.Taxon)
				return calendarGrid(p).print(w, 0, widthOf(w))
			})
		})
	}
	return cmd
}

// formatICS is a calendar by RFC 5545.
const formatICS = "ics"
