package trials

import (
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/bench"
	"hatchlore/evidence/trial/counts"
)

// dueLine is something to do with some dishes of a trial.
type dueLine struct {
	Trial  string    `json:"trial"`
	Date   trial.Day `json:"date"` // for which it was planned
	Act    string    `json:"act"`
	Do     string    `json:"do"`
	Labels []string  `json:"labels"`
}

func dueCommand(at *library.Place) *cobra.Command {
	var on string
	cmd := &cobra.Command{
		Use:   "due [ID]",
		Short: "what is to be done today, and which looks are still to be recorded",
		Long: `Lists what is to be done on a day: the handling planned for it, and every look planned for it or
before that no count was recorded of. Without ID it goes through all trials that are not told yet.`,
		Example: `  hatchlore trial due
  hatchlore trial due dry --on 2026-03-01`,
		Args: usage.OneAtMost("the trial's id in 'hatchlore trial list'"),
	}
	cmd.Flags().StringVar(&on, "on", "", "the day, as 2026-01-10 (default today)")
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		day := trial.DayOf(time.Now())
		if on != "" {
			var err error
			if day, err = usage.Day("on", on); err != nil {
				return err
			}
		}
		return at.Use(func(lib *library.Library) error {
			trials, err := openTrials(cmd, lib, args)
			if err != nil {
				return err
			}
			lines := []dueLine{}
			for _, t := range trials {
				lines = append(lines, dueOn(t, day)...)
			}
			return listing.Emit(cmd.OutOrStdout(), *format, lines, func(w io.Writer, lines []dueLine) error { return printDue(w, lines, day) })
		})
	}
	return cmd
}

// openTrials returns the trial named, or all whose result is not told yet.
func openTrials(cmd *cobra.Command, lib *library.Library, args []string) ([]store.Trial, error) {
	if len(args) == 1 {
		t, err := lib.Store().Trial(cmd.Context(), args[0])
		return []store.Trial{t}, err
	}
	all, err := lib.Store().Trials(cmd.Context())
	var open []store.Trial
	for _, t := range all {
		if t.Closed.IsZero() {
			open = append(open, t)
		}
	}
	return open, err
}

// dueOn lists what is due in one trial: handling first, then looks by the day
// for which they were planned.
func dueOn(t store.Trial, day trial.Day) []dueLine {
	var out []dueLine
	for _, task := range bench.HandlingOn(t.Plan, day) {
		out = append(out, dueLine{t.Plan.Trial, task.Date, task.Act, task.Do, task.Labels})
	}
	at := map[string]int{}
	for _, d := range counts.DueOn(t.Plan, t.Counts, day) {
		do := "look: count emerged and hatched"
		if d.Last {
			do = "look for the last time: count hatched, emerged and dead; the rest are whole eggs"
		}
		key := d.Date.String() + do
		k, ok := at[key]
		if !ok {
			k = len(out)
			at[key] = k
			out = append(out, dueLine{Trial: t.Plan.Trial, Date: d.Date, Act: trial.ActLook, Do: do})
		}
		out[k].Labels = append(out[k].Labels, d.Label)
	}
	return out
}

func printDue(w io.Writer, lines []dueLine, day trial.Day) error {
	if len(lines) == 0 {
		return terminal.Say(w, "nothing is due on %s", day)
	}
	g := &terminal.Grid{Heads: []string{"trial", "planned for", "do", "dishes"}}
	for _, l := range lines {
		g.Add(l.Trial, l.Date.String(), l.Do, strings.Join(l.Labels, " "))
	}
	return g.Print(w, 0, terminal.Width(w))
}
