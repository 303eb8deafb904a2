package shell

import (
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/usage"
)

// Help is cobra's help in this program's voice: an unknown command is an error,
// not a remark.
func Help(root *cobra.Command) *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "how to use a command",
		RunE: func(_ *cobra.Command, args []string) error {
			cmd, rest, err := root.Find(args)
			if err != nil || len(rest) > 0 {
				return usage.Errorf("there is no command %q; 'hatchlore --help' lists them", strings.Join(args, " "))
			}
			cmd.InitDefaultHelpFlag()
			return cmd.Help()
		},
	}
}

// Voice gives cobra's completion command, which root has by now, the words and
// the refusals of the other commands.
func Voice(root *cobra.Command) {
	cmd, _, err := root.Find([]string{"completion"})
	if err != nil {
		return
	}
	cmd.Short = "a script by which your shell completes commands, species, papers and trials"
	cmd.Long = `Writes a script for your shell, which then completes commands, flags, species, papers and trials.
The help of each shell says where the script goes.`
	cmd.Example = "  hatchlore completion bash --help"
	cmd.RunE = func(*cobra.Command, []string) error {
		return usage.Errorf("name your shell: hatchlore completion bash, zsh, fish or powershell")
	}
	cmd.Args = usage.None
	for _, shell := range cmd.Commands() {
		shell.Short = "the script for " + shell.Name()
		shell.Args = usage.None
	}
}
