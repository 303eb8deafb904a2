package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
)

func (a *app) speciesCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "species",
		Short: "the species and genera that the library has claims on",
		Args:  none,
	}
	format := formatFlag(cmd, formatTable, formatJSONL, formatCSV)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		return a.withLibrary(func(lib *library.Library) error {
			taxa, err := lib.Store().Taxa(cmd.Context())
			if err != nil {
				return err
			}
			lines := make([]taxonLine, 0, len(taxa))
			for _, t := range taxa {
				lines = append(lines, taxonLine(t))
			}
			return emit(cmd.OutOrStdout(), *format, lines, printTaxa)
		})
	}
	return cmd
}

// taxonLine is a name as printed in papers, with how much is known under it.
type taxonLine struct {
	Taxon     string `json:"taxon"`
	Claims    int    `json:"claims"`
	Firsthand int    `json:"firsthand"`
	Papers    int    `json:"papers"`
}

func printTaxa(w io.Writer, taxa []taxonLine) error {
	g := &grid{heads: []string{"name", "claims", "first-hand", "papers"}}
	for _, t := range taxa {
		name := t.Taxon
		if name == "" {
			name = "(no single species)"
		}
		g.add(clean(name), fmt.Sprint(t.Claims), fmt.Sprint(t.Firsthand), fmt.Sprint(t.Papers))
	}
	return g.print(w, 0, widthOf(w))
}
