package main

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
)

func (a *app) checkCommand() *cobra.Command {
	var rebuild bool
	var backup string
	cmd := &cobra.Command{
		Use:   "check",
		Short: "whether the library is whole, and what would make it better",
		Example: `  hatchlore check
  hatchlore check --backup library-copy.db`,
		Long: `Looks whether every paper is in the search index, which pages nobody could read, which papers
have moved or changed, and which helping programs are missing. What is out of step is mended.`,
		Args: none,
	}
	cmd.Flags().BoolVar(&rebuild, "rebuild", false, "make the search index anew from the library")
	cmd.Flags().StringVar(&backup, "backup", "", "write a whole copy of the library's database to this file, which must not exist yet")
	format := formatFlag(cmd, formatTable, formatJSONL, formatCSV)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		return a.withLibrary(func(lib *library.Library) error {
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
	return emit(w, format, findings, func(w io.Writer, findings []library.Finding) error {
		g := &grid{}
		for _, f := range findings {
			g.add(f.State, f.About, clean(f.Note))
		}
		return g.print(w, 0, widthOf(w))
	})
}
