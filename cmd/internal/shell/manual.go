package shell

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"hatchlore/cmd/internal/usage"
)

// Manual is the command that writes the manual pages.
func Manual() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "manual FOLDER",
		Short: "write the manual pages of every command, for man",
		Example: `  hatchlore manual ~/.local/share/man/man1
  man hatchlore-trial-plan`,
		Args: usage.One("the folder to write them to"),
	}
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if err := os.MkdirAll(args[0], 0o755); err != nil {
			return fmt.Errorf("no manual pages written: %w", err)
		}
		root := cmd.Root()
		root.DisableAutoGenTag = true
		head := &doc.GenManHeader{Title: "HATCHLORE", Section: "1", Source: "hatchlore", Manual: "hatchlore"}
		if err := doc.GenManTree(root, head, args[0]); err != nil {
			return fmt.Errorf("no manual pages written: %w", err)
		}
		_, err := fmt.Fprintf(cmd.OutOrStdout(), "%s: the manual pages of every command; 'man -l %s' shows the first\n", args[0], filepath.Join(args[0], "hatchlore.1"))
		return err
	}
	return cmd
}
