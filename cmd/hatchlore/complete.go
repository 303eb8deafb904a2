package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hatchlore/cmd/internal/library"
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

// complete lets a shell complete words from the library: names, papers, lots
// and trials, and the fixed words that flags take. What the library cannot say
// is left to the keeper: completing never fails aloud.
func (a *app) complete(cmd *cobra.Command) {
	for _, sub := range cmd.Commands() {
		a.complete(sub)
	}
	cmd.Flags().VisitAll(func(f *pflag.Flag) { a.completeFlag(cmd, f) })
	words := strings.Fields(cmd.Use)
	if len(words) < 2 || cmd.ValidArgsFunction != nil {
		return
	}
	list, ok := places[strings.Trim(words[1], "[].…")]
	if ok && (!isClaim(cmd)) {
		cmd.ValidArgsFunction = a.completion(list)
	}
}

// isClaim tells the commands whose ID is a claim's: there are too many of those
// to offer.
func isClaim(cmd *cobra.Command) bool { return cmd.HasParent() && cmd.Parent().Name() == "claim" }

func (a *app) completeFlag(cmd *cobra.Command, f *pflag.Flag) {
	var fixed []string
	if c, ok := f.Value.(*choice); ok {
		fixed = c.allowed
	}
	switch {
	case fixed != nil:
	case f.Name == "factor", f.Name == "hold":
		fixed = factorIDs()
	case f.Name == "section":
		fixed = sections
	case f.Name == "paper":
		// The only error is a flag that does not exist.
		_ = cmd.RegisterFlagCompletionFunc(f.Name, a.completion(listPapers))
		return
	case f.Name == "lot":
		_ = cmd.RegisterFlagCompletionFunc(f.Name, a.completion(listLots))
		return
	default:
		return
	}
	_ = cmd.RegisterFlagCompletionFunc(f.Name, cobra.FixedCompletions(fixed, cobra.ShellCompDirectiveNoFileComp))
}

// completion offers what list finds that begins with what is typed.
func (a *app) completion(list lister) cobra.CompletionFunc {
	return func(cmd *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
		var out []string
		err := a.withLibrary(func(lib *library.Library) error {
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
	papers, err := listings(cmd.Context(), lib)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, p := range papers {
		out = append(out, p.Paper+"\t"+clean(p.Title))
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
