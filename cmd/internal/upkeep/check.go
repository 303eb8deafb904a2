// Package upkeep has the commands that look after the library and the program
// themselves: check, and bench for those who work on the program.
//
// It refuses to touch a library in order to measure: bench works in a folder of
// its own.
package upkeep

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
)

// Check is the command that looks whether the library is whole.
func Check(at *library.Place) *cobra.Command {
	var rebuild bool
	var backup string
	cmd := &cobra.Command{
		Use:   "check",
		Short: "whether the library is whole, and what would make it better",
		Example: `  hatchlore check
  hatchlore check --backup library-copy.db`,
		Long: `Looks whether every paper is in the search index, which pages nobody could read, which papers
have moved or changed, and which helping programs are missing. What is out of step is mended.`,
		Args: usage.None,
	}
	cmd.Flags().BoolVar(&rebuild, "rebuild", false, "make the search index anew from the library")
	cmd.Flags().StringVar(&backup, "backup", "", "write a whole copy of the library's database to this file, which must not exist yet")
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		return at.Use(func(lib *library.Library) error {
			if backup != "" {
				if err := lib.Store().Backup(cmd.Context(), backup); err != nil {
					return err
				}
			}
			return runCheck(cmd.Context(), lib, rebuild, backup, *format, cmd.OutOrStdout())
		})
	}
	return cmd
}

// runCheck prints the findings, and where a copy of the library was written.
func runCheck(ctx context.Context, lib *library.Library, rebuild bool, backup, format string, w io.Writer) error {
	findings, err := lib.Check(ctx, rebuild)
	if err != nil {
		return err
	}
	if backup != "" {
		findings = append(findings, library.Finding{State: "good", About: "copy", Note: backup + " holds the library's database as it is now"})
	}
	return listing.Emit(w, format, findings, func(w io.Writer, findings []library.Finding) error {
		g := &terminal.Grid{}
		for _, f := range findings {
			g.Add(f.State, f.About, f.Note)
		}
		return g.Print(w, 0, terminal.Width(w))
	})
}
