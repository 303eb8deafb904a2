// Package shell gives a shell what it needs to know of the commands: scripts and
// words by which it completes them, help in the program's voice, manual pages.
//
// It refuses to fail aloud while a keeper types.
package shell

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
)

// A lister names what of the library can stand at a place of the command line,
// each as "word\twhat it is".
type lister func(cmd *cobra.Command, lib *library.Library) ([]string, error)

// places says which lister serves an argument, by the word that a command's
// usage line has for it.
var places = map[string]lister{
	"TAXON": listTaxa,
	"KEY":   listPapers,
	"LATER": listPapers,
	"OLD":   listTaxa,
	"NAME":  listLots,
	"ID":    listTrials,
}

// Complete lets a shell complete words of cmd and those below it from the
// library: names, papers, lots and trials, and the fixed words that flags take.
// What the library cannot say is left to the keeper.
func Complete(cmd *cobra.Command, at *library.Place) {
	for _, sub := range cmd.Commands() {
		Complete(sub, at)
	}
	cmd.Flags().VisitAll(func(f *pflag.Flag) { completeFlag(cmd, at, f) })
	words := strings.Fields(cmd.Use)
	if len(words) < 2 || cmd.ValidArgsFunction != nil {
		return
	}
	list, ok := places[strings.Trim(words[1], "[].…")]
	if ok && !isClaim(cmd) {
		cmd.ValidArgsFunction = completion(at, list)
	}
}

// isClaim tells the commands whose ID is a claim's: there are too many of those
// to offer.
func isClaim(cmd *cobra.Command) bool { return cmd.HasParent() && cmd.Parent().Name() == "claim" }

func completeFlag(cmd *cobra.Command, at *library.Place, f *pflag.Flag) {
	var fixed []string
	if c, ok := f.Value.(*usage.Choice); ok {
		fixed = c.Allowed
	}
	switch {
	case fixed != nil:
	case f.Name == "factor", f.Name == "hold":
		fixed = usage.FactorIDs()
	case f.Name == "paper":
		// The only error is a flag that does not exist.
		_ = cmd.RegisterFlagCompletionFunc(f.Name, completion(at, listPapers))
		return
	case f.Name == "lot":
		_ = cmd.RegisterFlagCompletionFunc(f.Name, completion(at, listLots))
		return
	default:
		return
	}
	_ = cmd.RegisterFlagCompletionFunc(f.Name, cobra.FixedCompletions(fixed, cobra.ShellCompDirectiveNoFileComp))
}

// completion offers what list finds that begins with what is typed.
func completion(at *library.Place, list lister) cobra.CompletionFunc {
	return func(cmd *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
		var out []string
		err := at.Use(func(lib *library.Library) error {
			all, err := list(cmd, lib)
			out = slices.DeleteFunc(all, func(s string) bool {
				return !strings.HasPrefix(strings.ToLower(s), strings.ToLower(typed))
			})
			return err
		})
		if err != nil {
			return nil, cobra.ShellCompDirectiveError
		}
		return out, cobra.ShellCompDirectiveNoFileComp
	}
}

func listTaxa(cmd *cobra.Command, lib *library.Library) ([]string, error) {
	names, err := lib.Answers().Species(cmd.Context())
	if err != nil {
		return nil, err
	}
	var out []string
	for _, n := range names.Known {
		if n.Taxon != "" {
			out = append(out, fmt.Sprintf("%s\t%d claims", n.Taxon, n.Claims))
		}
	}
	return out, nil
}

func listPapers(cmd *cobra.Command, lib *library.Library) ([]string, error) {
	papers, err := lib.Papers(cmd.Context())
	if err != nil {
		return nil, err
	}
	var out []string
	for _, p := range papers {
		out = append(out, p.Paper+"\t"+terminal.Clean(p.Title))
	}
	return out, nil
}

func listLots(cmd *cobra.Command, lib *library.Library) ([]string, error) {
	lots, err := lib.Store().Lots(cmd.Context())
	if err != nil {
		return nil, err
	}
	var out []string
	for _, l := range lots {
		out = append(out, l.Name+"\t"+l.Taxon)
	}
	return out, nil
}

func listTrials(cmd *cobra.Command, lib *library.Library) ([]string, error) {
	trials, err := lib.Answers().Trials(cmd.Context())
	if err != nil {
		return nil, err
	}
	var out []string
	for _, t := range trials {
		out = append(out, t.Trial+"\t"+t.State)
	}
	return out, nil
}
