package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
)

func (a *app) trialCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "trial",
		Short: "lay out a trial that can settle a disagreement, take its counts, weigh them",
		Args:  none,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return usagef("say what to do with the trial: hatchlore trial plan TAXON --eggs N; 'hatchlore trial --help' lists the rest")
		},
	}
	cmd.AddCommand(
		a.trialPlanCommand(), a.trialListCommand(), a.trialSheetCommand(), a.trialCalendarCommand(), a.trialDueCommand(),
		a.trialRecordCommand(), a.trialResultCommand(), a.trialDropCommand(),
	)
	return cmd
}

// one wants exactly one argument, which what names.
func one(what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if err := some(what)(cmd, args); err != nil {
			return err
		}
		if len(args) > 1 {
			return usagef("name %s alone, not %q too; quote what has blanks", what, args[1])
		}
		return nil
	}
}

// perhapsLibrary opens the library where there is one; use gets nil where
// there is none.
func (a *app) perhapsLibrary(use func(*library.Library) error) error {
	err := a.withLibrary(use)
	if errors.Is(err, library.ErrNone) {
		return use(nil)
	}
	return err
}

// planOf finds the plan that the keeper names: a file written by
// 'trial plan --format json', else a trial in the library.
func (a *app) planOf(cmd *cobra.Command, name string) (p *trial.Plan, c *counts.Sheet, err error) {
	if strings.HasSuffix(name, ".json") {
		err = withInput(cmd, name, func(r io.Reader) error {
			p, err = trial.ReadPlan(r)
			return err
		})
		return p, nil, err
	}
	err = a.withLibrary(func(lib *library.Library) error {
		t, err := lib.Store().Trial(cmd.Context(), name)
		p, c = t.Plan, t.Counts
		return err
	})
	return p, c, err
}

// withInput reads a file, or standard input for "-". Errors name the file.
func withInput(cmd *cobra.Command, name string, use func(io.Reader) error) error {
	if name == "-" {
		return use(cmd.InOrStdin())
	}
	f, err := os.Open(name)
	if err != nil {
		return fmt.Errorf("%s cannot be read: %w", name, cause(err))
	}
	defer f.Close()
	if err := use(f); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}

// withOutput writes a file whole or not at all, or standard output for "" and
// "-".
func withOutput(cmd *cobra.Command, name string, use func(io.Writer) error) error {
	if name == "" || name == "-" {
		return use(cmd.OutOrStdout())
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".hatchlore-*")
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w", name, cause(err))
	}
	defer os.Remove(f.Name()) // fails when all went well: the file has its name then
	if err := errors.Join(use(f), f.Chmod(0o644), f.Close()); err != nil {
		return fmt.Errorf("%s cannot be written: %w", name, cause(err))
	}
	if err := os.Rename(f.Name(), name); err != nil {
		return fmt.Errorf("%s cannot be written: %w", name, cause(err))
	}
	return nil
}

// cause is what the system said of a file, without the file's name.
func cause(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	var link *os.LinkError
	if errors.As(err, &link) {
		return link.Err
	}
	return err
}
