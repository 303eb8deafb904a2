package shell

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"hatchlore/cmd/internal/stream"
	"hatchlore/cmd/internal/terminal"
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
		if err := stream.Folder(args[0]); err != nil {
			return err
		}
		root := cmd.Root()
		root.DisableAutoGenTag = true
		head := &doc.GenManHeader{Title: "HATCHLORE", Section: "1", Source: "hatchlore", Manual: "hatchlore"}
		if err := doc.GenManTree(root, head, args[0]); err != nil {
			return fmt.Errorf("%s cannot be written: %w", args[0], stream.Cause(err))
		}
		return terminal.Say(cmd.OutOrStdout(), "%s: the manual pages of every command; 'man -l %s' shows the first", args[0], filepath.Join(args[0], "hatchlore.1"))
	}
	return cmd
}
