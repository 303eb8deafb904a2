package papers

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/store"
	"hatchlore/query"
)

func sameCommand(at *library.Place) *cobra.Command {
	var own, undo bool
	var reason string
	cmd := &cobra.Command{
		Use:   "same [LATER FIRST]",
		Short: "papers that tell of one experiment, which counts once; without keys the list",
		Long: `Papers that share an author and give the same figures on a species are taken to tell of one
experiment, and count as one witness in conflicts and pooled fractions. The list says what
speaks for each. Your word goes before the figures: LATER FIRST says that LATER publishes the
experiment of FIRST again, --own that a paper's experiment is its own, --undo lets the figures
decide again. The claims of both papers stay as they are.`,
		Example: `  hatchlore papers same
  hatchlore papers same alder1962 alder1960 --reason "the thesis behind the paper"
  hatchlore papers same --own alder1962 --reason "another winter"`,
	}
	cmd.Flags().BoolVar(&own, "own", false, "this paper's experiment is its own")
	cmd.Flags().BoolVar(&undo, "undo", false, "take back what was said of this paper")
	cmd.Flags().StringVar(&reason, "reason", "", "why")
	usage.MayBeEmpty(cmd, "reason")
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		want := 2
		if own || undo {
			want = 1
		}
		if own && undo || len(args) != want && (want == 1 || len(args) > 0) {
			return usage.Errorf("write 'papers same LATER FIRST', 'papers same --own KEY' or 'papers same --undo KEY'")
		}
		return at.Use(func(lib *library.Library) error {
			switch {
			case undo:
				return undoExperiment(cmd, lib, args[0])
			case len(args) == 0:
				return listExperiments(cmd, lib, *format)
			}
			e := store.Experiment{Paper: args[0], Reason: reason}
			said := e.Paper + " tells of an experiment of its own"
			if !own {
				e.First = args[1]
				said = e.Paper + " tells of the experiment of " + e.First + ", which counts once"
			}
			if err := lib.Store().SetExperiment(cmd.Context(), e); err != nil {
				return err
			}
			return terminal.Say(cmd.OutOrStdout(), "%s", said)
		})
	}
	return cmd
}

func undoExperiment(cmd *cobra.Command, lib *library.Library, key string) error {
	known, err := lib.Store().RemoveExperiment(cmd.Context(), key)
	if err != nil {
		return err
	}
	if !known {
		return fmt.Errorf("nothing was said of the experiment of %s; 'hatchlore papers same' lists what was", key)
	}
	return terminal.Say(cmd.OutOrStdout(), "the figures decide on %s again", key)
}

func listExperiments(cmd *cobra.Command, lib *library.Library, format string) error {
	all, err := lib.Answers().Experiments(cmd.Context())
	if err != nil {
		return err
	}
	return listing.Emit(cmd.OutOrStdout(), format, all, func(w io.Writer, all []query.Experiment) error {
		if len(all) == 0 {
			_, err := fmt.Fprintln(w, "no two papers here tell of one experiment")
			return err
		}
		g := &terminal.Grid{Heads: []string{"paper", "same experiment as", "why", "said by"}}
		for _, x := range all {
			first, by := x.First, "its figures"
			if first == "" {
				first = "none: its own"
			}
			if x.Judged != "" {
				by = "you, " + x.Judged
			}
			g.Add(x.Paper, first, x.Why, by)
		}
		return g.Print(w, 0, terminal.Width(w))
	})
}
