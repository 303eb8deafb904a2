package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/evidence"
	"hatchlore/query"
)

func (a *app) trialListCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "list",
		Short: "the trials kept in the library and how far their counts have come",
		Example: `  hatchlore trial list
  hatchlore trial list --format csv`,
		Args: none,
	}
	format := formatFlag(cmd, formatTable, formatJSONL, formatCSV)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		return a.withLibrary(func(lib *library.Library) error {
			lines, err := lib.Answers().Trials(cmd.Context())
			if err != nil {
				return err
			}
			return emit(cmd.OutOrStdout(), *format, lines, printTrials)
		})
	}
	return cmd
}

func printTrials(w io.Writer, lines []query.TrialLine) error {
	if len(lines) == 0 {
		_, err := fmt.Fprintln(w, "no trials yet: 'hatchlore trial plan TAXON --eggs N' lays one out")
		return err
	}
	g := &grid{heads: []string{"trial", "trigger", "last look", "eggs", "dishes counted", "state"}}
	for _, l := range lines {
		var factors []string
		for _, f := range l.Factors {
			factors = append(factors, evidence.Factor(f).Label())
		}
		g.add(l.Trial, l.Trigger.String(), l.End.String(), fmt.Sprint(l.EggsUsed), fmt.Sprintf("%d of %d", l.Counted, l.Progress.Dishes), ofKeeper(l))
		g.under(clean(l.Taxon + ": " + strings.Join(factors, ", ")))
	}
	return g.print(w, 0, widthOf(w))
}

func (a *app) trialDropCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:     "drop ID",
		Short:   "remove a plan in which nothing was counted yet",
		Example: `  hatchlore trial drop lirrobranchus-tessulatus-2026-01-10-1`,
		Args:    one("the trial's id in 'hatchlore trial list'"),
	}
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return a.withLibrary(func(lib *library.Library) error {
			id, err := lib.Store().DropTrial(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "trial %s is removed\n", id)
			return err
		})
	}
	return cmd
}

// ofKeeper is a trial's state, with whose it is where that is another keeper.
func ofKeeper(l query.TrialLine) string {
	if l.Keeper == "" {
		return l.State
	}
	return l.State + ", of " + clean(l.Keeper)
}
