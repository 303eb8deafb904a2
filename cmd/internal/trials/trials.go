// Package trials has the commands over trials: plan, list, sheet, calendar, due,
// record, result and drop.
//
// It refuses a plan for eggs that nobody counted, and lets no count be lost: a
// sheet is recorded whole or not at all.
package trials

import (
	"io"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/stream"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
)

// Command is the command over trials, with those below it.
func Command(at *library.Place) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "trial",
		Short: "lay out a trial that can settle a disagreement, take its counts, weigh them",
		Args:  usage.None,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return usage.Errorf("say what to do with the trial: hatchlore trial plan TAXON --eggs N; 'hatchlore trial --help' lists the rest")
		},
	}
	cmd.AddCommand(
		planCommand(at), listCommand(at), sheetCommand(at), calendarCommand(at), dueCommand(at),
		recordCommand(at), resultCommand(at), dropCommand(at),
	)
	return cmd
}

// planOf finds the plan that the keeper names: a file written by
// 'trial plan --format json', else a trial in the library.
func planOf(cmd *cobra.Command, at *library.Place, name string) (p *trial.Plan, c *counts.Sheet, err error) {
	if strings.HasSuffix(name, ".json") {
		err = stream.Read(cmd.InOrStdin(), name, func(r io.Reader) error {
			p, err = trial.ReadPlan(r)
			return err
		})
		return p, nil, err
	}
	err = at.Use(func(lib *library.Library) error {
		t, err := lib.Store().Trial(cmd.Context(), name)
		p, c = t.Plan, t.Counts
		return err
	})
	return p, c, err
}
