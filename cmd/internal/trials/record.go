package trials

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/stream"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
)

func recordCommand(at *library.Place) *cobra.Command {
	var closing bool
	cmd := &cobra.Command{
		Use:   "record ID FILE.csv",
		Short: "take counts back from the bench",
		Long: `Reads a sheet of counts (CSV with dish, date, eggs, emerged, hatched, dead; 'trial sheet --format
csv' writes one to fill in) into the trial. Sheets may be partial and come again: a look that is
known is passed over, another count of the same dish on the same day corrects it, and what it
said before is kept. A sheet with an impossible line is refused as a whole. The eggs of counted
dishes leave their lot.

When every dish has had its last look, or with --close, the result joins the evidence table as a
first-hand source, 'own trial'.`,
		Example: `  hatchlore trial record lirrobranchus counts.csv
  hatchlore trial record lirrobranchus --close`,
	}
	cmd.Args = func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) == 2, len(args) == 1 && closing:
			return nil
		case len(args) > 2:
			return usage.Errorf("record one sheet at a time; quote what has blanks")
		}
		return usage.Errorf("name the trial and the file of counts; see 'hatchlore trial record --help'")
	}
	cmd.Flags().BoolVar(&closing, "close", false, "the counting is over, though not every dish had its last look")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		var sheet *counts.Sheet
		from := ""
		if len(args) == 2 {
			from = args[1]
			err := stream.Read(cmd.InOrStdin(), from, func(r io.Reader) (err error) {
				if sheet, err = counts.Read(r); err != nil {
					return fmt.Errorf("nothing of it is recorded: %w", counts.Together(err, unplanned(cmd.Context(), at, args[0], sheet)))
				}
				return nil
			})
			if err != nil {
				return err
			}
		}
		return at.Use(func(lib *library.Library) error {
			return recordSheet(cmd, lib, args[0], sheet, from, closing)
		})
	}
	return cmd
}

// unplanned tells of a sheet that is refused which of its dishes the trial has not,
// so that the keeper mends all of it at once.
func unplanned(ctx context.Context, at *library.Place, id string, sheet *counts.Sheet) error {
	if sheet == nil {
		return nil
	}
	return at.Use(func(lib *library.Library) error {
		t, err := lib.Store().Trial(ctx, id)
		if err != nil {
			return err
		}
		return sheet.Unplanned(t.Plan)
	})
}

func recordSheet(cmd *cobra.Command, lib *library.Library, id string, sheet *counts.Sheet, from string, closing bool) error {
	r, err := lib.Store().RecordCounts(cmd.Context(), id, sheet, filepath.Base(from), closing)
	if err != nil {
		if from != "" {
			return fmt.Errorf("%s: nothing of it is recorded: %w", from, err)
		}
		return err
	}
	w := cmd.OutOrStdout()
	terminal.Say(w, "trial %s: %s", r.Trial, lookWords(r))
	fmt.Fprintf(w, "%d of %d dishes counted, %d with their last look; %d of %d eggs hatched so far\n",
		r.Progress.Counted, r.Progress.Dishes, r.Progress.Finished, r.Progress.Hatched, r.Progress.Eggs)
	if err := printSpent(cmd, lib, r.Trial); err != nil {
		return err
	}
	if r.Told == "" {
		_, err = fmt.Fprintln(w, "the result joins the evidence table when every dish has had its last look, or with --close")
		return err
	}
	return terminal.Say(w, "the result stands in the evidence table as own trial, key %s, with %s: see 'hatchlore trial result %s'", r.Told, trial.Plural(r.Claims, "claim"), r.Trial)
}

func lookWords(r store.Recorded) string {
	var parts []string
	for _, p := range []struct {
		n    int
		what string
	}{{r.New, "recorded"}, {r.Corrected, "corrected"}, {r.Same, "known already"}} {
		if p.n > 0 {
			parts = append(parts, trial.Plural(p.n, "look")+" "+p.what)
		}
	}
	if len(parts) == 0 {
		return "closed"
	}
	return strings.Join(parts, ", ")
}

// printSpent says what is left in the lots of a trial.
func printSpent(cmd *cobra.Command, lib *library.Library, id string) error {
	t, err := lib.Store().Trial(cmd.Context(), id)
	if err != nil {
		return err
	}
	all, err := lib.Store().Lots(cmd.Context())
	if err != nil {
		return err
	}
	spent := counts.Spent(t.Plan, t.Counts)
	for _, l := range all {
		if n := spent[l.Name]; n > 0 {
			terminal.Say(cmd.OutOrStdout(), "lot %s: %s taken by this trial, %d left", l.Name, trial.Plural(n, "egg"), l.Left)
		}
	}
	return nil
}
