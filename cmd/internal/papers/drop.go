package papers

import (
	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/trial"
)

func dropCommand(at *library.Place) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "drop KEY...",
		Short: "take papers out of the library; their files stay where they are",
		Long: `Takes papers with their pages and claims out of the library: one that has nothing to do with
hatching, or a second copy. The files stay where they are, and what you decided about their claims
is kept: ingested again, a paper comes back with it. To leave single claims out, reject them.`,
		Example: `  hatchlore papers drop alder1962`,
		Args:    usage.Some("the paper's key in 'hatchlore papers'"),
	}
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return at.Use(func(lib *library.Library) error {
			gone, err := lib.Remove(cmd.Context(), args)
			for _, p := range gone {
				if err := terminal.Say(cmd.OutOrStdout(), "%s: taken out with %s; its file stays: %s", p.Paper, trial.Plural(p.Claims, "claim"), p.Source); err != nil {
					return err
				}
			}
			return err
		})
	}
	return cmd
}
