package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// app holds what every command needs to know.
type app struct {
	folder string // --library
}

func newRoot() *cobra.Command {
	a := &app{}
	root := &cobra.Command{
		Use:   "hatchlore",
		Short: "what papers say about hatching resting eggs, where they disagree, and the trial that settles it",
		Long: `hatchlore makes a keeper's own papers on temporary-pool crustaceans searchable, puts what
each says about hatching into one table with page and quote, shows where they disagree,
and lays out a trial that the eggs and chambers on hand can afford.

The exit status is 0 when done, 1 when it could not be done, 2 when the command line is wrong.
Colour is used on a terminal only, and not where NO_COLOR is set.`,
		Args:          none,
		SilenceUsage:  true,
		SilenceErrors: true,
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := fmt.Fprint(cmd.OutOrStdout(), start)
			return err
		},
	}
	root.PersistentFlags().StringVar(&a.folder, "library", "", "folder of the library (default $HATCHLORE_LIBRARY, else the user's data folder)")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return usagef("%w; see 'hatchlore %s--help'", flagError(err), nameOf(cmd))
	})
	root.AddCommand(
		a.ingestCommand(), a.readCommand(), a.papersCommand(), a.queryCommand(), a.evidenceCommand(),
		a.conflictsCommand(), a.claimCommand(), a.speciesCommand(), a.trialCommand(), a.lotCommand(), a.waterCommand(), a.demoCommand(), a.checkCommand(), a.exportCommand(), a.importCommand(), a.manualCommand(), a.benchCommand(),
		a.serveCommand(),
	)
	root.SetHelpCommand(helpCommand(root))
	root.InitDefaultCompletionCmd()
	if cmd, _, err := root.Find([]string{"completion"}); err == nil {
		voiceCompletion(cmd)
	}
	a.complete(root)
	return root
}

// voiceCompletion gives cobra's completion command the words and the refusals
// of the other commands.
func voiceCompletion(cmd *cobra.Command) {
	cmd.Short = "a script by which your shell completes commands, species, papers and trials"
	cmd.Long = `Writes a script for your shell, which then completes commands, flags, species, papers and trials.
The help of each shell says where the script goes.`
	cmd.Example = "  hatchlore completion bash --help"
	cmd.RunE = func(*cobra.Command, []string) error {
		return usagef("name your shell: hatchlore completion bash, zsh, fish or powershell")
	}
	cmd.Args = none
	for _, shell := range cmd.Commands() {
		shell.Short = "the script for " + shell.Name()
	}
}

// flagError puts into words that a flag got no number.
func flagError(err error) error {
	var bad *pflag.InvalidValueError
	var number *strconv.NumError
	if !errors.As(err, &bad) || !errors.As(err, &number) {
		return err
	}
	what := "a whole number"
	switch kind := bad.GetFlag().Value.Type(); {
	case strings.HasPrefix(kind, "float"):
		what = "a number, with a point as in 0.3"
	case strings.HasSuffix(kind, "Slice"):
		what = "whole numbers with commas between"
	case kind == "bool":
		what = "true or false"
	}
	return fmt.Errorf("--%s takes %s, not %q", bad.GetFlag().Name, what, bad.GetValue())
}

// helpCommand is cobra's help in this program's voice: an unknown command is
// an error, not a remark.
func helpCommand(root *cobra.Command) *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "how to use a command",
		RunE: func(_ *cobra.Command, args []string) error {
			cmd, rest, err := root.Find(args)
			if err != nil || len(rest) > 0 {
				return usagef("there is no command %q; 'hatchlore --help' lists them", strings.Join(args, " "))
			}
			cmd.InitDefaultHelpFlag()
			return cmd.Help()
		},
	}
}

const start = `hatchlore reads your own papers on hatching resting eggs. To start:

  hatchlore ingest FOLDER       add the papers in a folder to your library
  hatchlore evidence TAXON      what they say about a species or genus, with page and quote
  hatchlore conflicts TAXON     where they disagree, side by side

'hatchlore demo' walks the whole way on invented papers; 'hatchlore --help' lists every command.
`

// nameOf returns the words of cmd after the program's own name, with a blank
// at the end, or nothing for the root.
func nameOf(cmd *cobra.Command) string {
	if cmd == nil || !cmd.HasParent() {
		return ""
	}
	return nameOf(cmd.Parent()) + cmd.Name() + " "
}

// none refuses arguments.
func none(cmd *cobra.Command, args []string) error {
	switch {
	case len(args) == 0:
		return nil
	case cmd.HasParent():
		return usagef("'hatchlore %s' takes no %q; see 'hatchlore %s--help'", strings.TrimSpace(nameOf(cmd)), args[0], nameOf(cmd))
	}
	return usagef("there is no command %q; 'hatchlore --help' lists them", args[0])
}

// some wants at least one argument, which what names.
func some(what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 || strings.TrimSpace(strings.Join(args, "")) == "" {
			return usagef("name %s; see 'hatchlore %s--help'", what, nameOf(cmd))
		}
		return nil
	}
}

// dataFolder is the user's own data folder by the XDG base directory
// specification.
func dataFolder() (string, error) {
	if dir := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "hatchlore"), nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", fmt.Errorf("no home folder is known; name the library with --library")
	}
	return filepath.Join(home, ".local", "share", "hatchlore"), nil
}

// libraryFolder is where the library stands: the flag, the environment, the
// data folder.
func (a *app) libraryFolder() (string, error) {
	if a.folder != "" {
		return a.folder, nil
	}
	if dir := os.Getenv("HATCHLORE_LIBRARY"); dir != "" {
		return dir, nil
	}
	dir, err := dataFolder()
	if err != nil {
		return "", err
	}
	return filepath.Join(dir, "library"), nil
}
