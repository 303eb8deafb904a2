// Package usage reads what stands behind a command's name: its arguments and
// flags, and tells a mistake in them from every other failure.
//
// It refuses to guess what was meant, and knows no command by name: what a
// command takes, the command itself says.
package usage

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
)

// Error is a mistake in the command line itself.
type Error struct{ err error }

func (e *Error) Error() string { return e.err.Error() }

// Unwrap returns what was wrong.
func (e *Error) Unwrap() error { return e.err }

// Errorf is [fmt.Errorf] for a mistake in the command line.
func Errorf(format string, args ...any) error {
	return &Error{fmt.Errorf(format, args...)}
}

// Blame says of an error, where there is one, that the command line is to blame
// for it.
func Blame(err error) error {
	if err == nil {
		return nil
	}
	return &Error{err}
}

// NameOf returns the words of cmd after the program's own name, with a blank
// at the end, or nothing for the root.
func NameOf(cmd *cobra.Command) string {
	if cmd == nil || !cmd.HasParent() {
		return ""
	}
	return NameOf(cmd.Parent()) + cmd.Name() + " "
}

// None refuses arguments.
func None(cmd *cobra.Command, args []string) error {
	switch {
	case len(args) == 0:
		return nil
	case cmd.HasParent():
		return Errorf("'hatchlore %s' takes no %q; see 'hatchlore %s--help'", strings.TrimSpace(NameOf(cmd)), args[0], NameOf(cmd))
	}
	return Errorf("there is no command %q; 'hatchlore --help' lists them", args[0])
}

// Some wants at least one argument, which what names.
func Some(what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 || strings.TrimSpace(strings.Join(args, "")) == "" {
			return Errorf("name %s; see 'hatchlore %s--help'", what, NameOf(cmd))
		}
		return nil
	}
}

// One wants exactly one argument, which what names.
func One(what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if err := Some(what)(cmd, args); err != nil {
			return err
		}
		if len(args) > 1 {
			return Errorf("name %s alone, not %q too; quote what has blanks", what, args[1])
		}
		return nil
	}
}

// OneAtMost takes one argument, which what names, or none.
func OneAtMost(what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 {
			return nil
		}
		return One(what)(cmd, args)
	}
}
