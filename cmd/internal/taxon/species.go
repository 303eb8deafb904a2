// Package taxon has the commands that answer for a species or genus: the
// evidence table, the disagreements, the names, and a sheet to hand on.
//
// It refuses to print a figure without its paper, page and words, and to let an
// animal of the sample pass for a real one.
package taxon

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/query"
)

// Species is the command that lists names, with those below it.
func Species(at *library.Place) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "species",
		Short: "the species and genera that the library has claims on; other names for them; a sheet to hand on",
		Example: `  hatchlore species
  hatchlore species --format jsonl`,
		Long: `Lists the names on which the library has claims, as papers print them, with what each is read as.
What a paper says in several places is one claim here; 'papers' and 'ingest' count the places.
Names that may be two spellings of one are proposed below and never merged by themselves.`,
		Args: usage.None,
	}
	cmd.AddCommand(aliasCommand(at), sheetCommand(at))
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		return at.Use(func(lib *library.Library) error {
			names, err := lib.Answers().Species(cmd.Context())
			if err != nil {
				return err
			}
			return listing.Emit(cmd.OutOrStdout(), *format, names.Known, func(w io.Writer, _ []query.KnownName) error {
				return printNames(w, names)
			})
		})
	}
	return cmd
}

func printNames(w io.Writer, names query.Names) error {
	g := &terminal.Grid{Heads: []string{"name", "claims", "first-hand", "papers", "read as"}}
	for _, t := range names.Known {
		name, as := t.Taxon, ""
		if name == "" {
			name = "(no single species)"
		}
		if t.ReadAs != t.Taxon {
			as = t.ReadAs
		}
		g.Add(name, fmt.Sprint(t.Claims), fmt.Sprint(t.Firsthand), fmt.Sprint(t.Papers), as)
	}
	width := terminal.Width(w)
	if err := g.Print(w, 0, width); err != nil {
		return err
	}
	var doubtful []string
	for _, p := range names.Doubtful {
		doubtful = append(doubtful, fmt.Sprintf("%s and %s: %s", p.A, p.B, p.Why))
	}
	return terminal.List(w, "perhaps one name in two spellings; 'hatchlore species alias OLD NEW' says so", doubtful, 0, width)
}
