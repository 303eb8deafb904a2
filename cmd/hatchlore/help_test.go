package main

import (
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// Every command that does something shows how, with a line that begins as it
// would be typed.
func TestHelpShowsExamples(t *testing.T) {
	n := 0
	var look func(cmd *cobra.Command)
	look = func(cmd *cobra.Command) {
		for _, sub := range cmd.Commands() {
			look(sub)
		}
		group := cmd.HasSubCommands() && cmd.Flags().Lookup("format") == nil // lists its commands and nothing else
		if cmd.RunE == nil || group || cmd.Name() == "help" || cmd.Parent().Name() == "completion" {
			return
		}
		n++
		want := cmd.CommandPath()
		if !strings.Contains(cmd.Example, want) {
			t.Errorf("%s: its help has no example that begins with %q", want, want)
		}
		if cmd.Short == "" || strings.HasSuffix(cmd.Short, ".") {
			t.Errorf("%s: its short help is %q, want a phrase without a stop", want, cmd.Short)
		}
	}
	look(newRoot())
	if n < 30 {
		t.Errorf("%d commands were seen", n)
	}
}
