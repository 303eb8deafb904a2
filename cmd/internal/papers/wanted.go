package papers

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/trial"
	"hatchlore/species/witness"
)

func wantedCommand(at *library.Place) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "wanted",
		Short: "works that your papers cite for their claims and that the library lacks",
		Long: `Lists the works that second-hand claims name as their source and that are not in the library,
those that most papers lean on first: what to look for next. A work is known again by its DOI, its
title, or its authors and year, however the papers print it. When it is ingested, the claims that
cite it count with it, without being read again. Where the library has a paper that could be it and
nothing decides, that is said: mend the paper's reference with 'papers edit'.`,
		Example: `  hatchlore papers wanted
  hatchlore papers wanted --format csv > wanted.csv`,
		Args: usage.None,
	}
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		return at.Use(func(lib *library.Library) error {
			works, err := lib.Answers().Wanted(cmd.Context())
			if err != nil {
				return err
			}
			return listing.Emit(cmd.OutOrStdout(), *format, works, printWanted)
		})
	}
	return cmd
}

func printWanted(w io.Writer, works []witness.Wanted) error {
	if len(works) == 0 {
		_, err := fmt.Fprintln(w, "the library has every work that its claims cite")
		return err
	}
	g := &terminal.Grid{Heads: []string{"work", "claims", "cited by", "about", "title"}}
	claims := 0
	for _, x := range works {
		claims += x.Claims
		title := x.Title
		if x.DOI != "" {
			title += " doi:" + x.DOI
		}
		if len(x.Rivals) > 0 {
			title += " [perhaps " + strings.Join(x.Rivals, " or ") + "]"
		}
		g.Add(x.Work, fmt.Sprint(x.Claims), strings.Join(x.Papers, ", "), strings.Join(x.Taxa, ", "), strings.TrimSpace(title))
	}
	if err := g.Print(w, 0, terminal.Width(w)); err != nil {
		return err
	}
	rest := "rest"
	if claims == 1 {
		rest = "rests"
	}
	return terminal.Say(w, "%s, on which %s %s", trial.Plural(len(works), "work"), trial.Plural(claims, "claim"), rest)
}
