package trials

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence"
	"hatchlore/query"
)

func listCommand(at *library.Place) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "list",
		Short: "the trials kept in the library and how far their counts have come",
		Example: `  hatchlore trial list
  hatchlore trial list --format csv`,
		Args: usage.None,
	}
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		return at.Use(func(lib *library.Library) error {
			lines, err := lib.Answers().Trials(cmd.Context())
			if err != nil {
				return err
			}
			return listing.Emit(cmd.OutOrStdout(), *format, lines, printTrials)
		})
	}
	return cmd
}

func printTrials(w io.Writer, lines []query.TrialLine) error {
	if len(lines) == 0 {
		_, err := fmt.Fprintln(w, "no trials yet: 'hatchlore trial plan TAXON --eggs N' lays one out")
		return err
	}
	g := &terminal.Grid{Heads: []string{"trial", "trigger", "last look", "eggs", "dishes counted", "state"}}
	for _, l := range lines {
		var factors []string
		for _, f := range l.Factors {
			factors = append(factors, evidence.Factor(f).Label())
		}
		g.Add(l.Trial, l.Trigger.String(), l.End.String(), fmt.Sprint(l.EggsUsed), fmt.Sprintf("%d of %d", l.Counted, l.Progress.Dishes), ofKeeper(l))
		g.Under(l.Taxon + ": " + strings.Join(factors, ", "))
	}
	return g.Print(w, 0, terminal.Width(w))
}

func dropCommand(at *library.Place) *cobra.Command {
	cmd := &cobra.Command{
		Use:     "drop ID",
		Short:   "remove a plan in which nothing was counted yet",
		Example: `  hatchlore trial drop lirrobranchus-tessulatus-2026-01-10-1`,
		Args:    usage.One("the trial's id in 'hatchlore trial list'"),
	}
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return at.Use(func(lib *library.Library) error {
			id, err := lib.Store().DropTrial(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			return terminal.Say(cmd.OutOrStdout(), "trial %s is removed", id)
		})
	}
	return cmd
}

// ofKeeper is a trial's state, with whose it is where that is another keeper.
func ofKeeper(l query.TrialLine) string {
	if l.Keeper == "" {
		return l.State
	}
	return l.State + ", of " + l.Keeper
}
