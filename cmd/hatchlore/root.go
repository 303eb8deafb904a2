package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/claim"
	"hatchlore/cmd/internal/demo"
	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/lots"
	"hatchlore/cmd/internal/papers"
	"hatchlore/cmd/internal/parcel"
	"hatchlore/cmd/internal/search"
	"hatchlore/cmd/internal/serve"
	"hatchlore/cmd/internal/shell"
	"hatchlore/cmd/internal/taxon"
	"hatchlore/cmd/internal/trials"
	"hatchlore/cmd/internal/upkeep"
	"hatchlore/cmd/internal/usage"
	"hatchlore/cmd/internal/waters"
)

func newRoot() *cobra.Command {
	at := &library.Place{}
	root := &cobra.Command{
		Use:   "hatchlore",
		Short: "what papers say about hatching resting eggs, where they disagree, and the trial that settles it",
		Long: `hatchlore makes a keeper's own papers on temporary-pool crustaceans searchable, puts what
each says about hatching into one table with page and quote, shows where they disagree,
and lays out a trial that the eggs and chambers on hand can afford.

The exit status is 0 when done, 1 when it could not be done, 2 when the command line is wrong.
Colour is used on a terminal only, and not where NO_COLOR is set.`,
		Args:          usage.None,
		SilenceUsage:  true,
		SilenceErrors: true,
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := fmt.Fprint(cmd.OutOrStdout(), start)
			return err
		},
	}
	root.PersistentFlags().StringVar(&at.Folder, "library", "", "folder of the library (default $HATCHLORE_LIBRARY, else the user's data folder)")
	root.SetFlagErrorFunc(usage.FlagError)
	root.PersistentPreRunE = usage.NoneEmpty
	root.AddCommand(
		papers.Ingest(at), papers.Read(), papers.Command(at), search.Command(at), taxon.Evidence(at), taxon.Conflicts(at),
		claim.Command(at), taxon.Species(at), trials.Command(at), lots.Command(at), waters.Command(), demo.Command(at),
		upkeep.Check(at), parcel.Export(at), parcel.Import(at), shell.Manual(), upkeep.Bench(), serve.Command(at),
	)
	root.SetHelpCommand(shell.Help(root))
	root.InitDefaultCompletionCmd()
	shell.Voice(root)
	shell.Complete(root, at)
	return root
}

const start = `hatchlore reads your own papers on hatching resting eggs. To start:

  hatchlore ingest FOLDER       add the papers in a folder to your library
  hatchlore evidence TAXON      what they say about a species or genus, with page and quote
  hatchlore conflicts TAXON     where they disagree, side by side

'hatchlore demo' walks the whole way on invented papers; 'hatchlore --help' lists every command.
`
