package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/species/witness"
)

func (a *app) papersWantedCommand() *cobra.Command {
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
		Args: none,
	}
	format := formatFlag(cmd, formatTable, formatJSONL, formatCSV)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		return a.withLibrary(func(lib *library.Library) error {
			works, err := lib.Answers().Wanted(cmd.Context())
			if err != nil {
				return err
			}
			return emit(cmd.OutOrStdout(), *format, works, printWanted)
		})
	}
	return cmd
}

func printWanted(w io.Writer, works []witness.Wanted) error {
	if len(works) == 0 {
		_, err := fmt.Fprintln(w, "the library has every work that its claims cite")
		return err
	}
	g := &grid{heads: []string{"work", "claims", "cited by", "about", "title"}}
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
		g.add(clean(x.Work), fmt.Sprint(x.Claims), clean(strings.Join(x.Papers, ", ")), clean(strings.Join(x.Taxa, ", ")), clean(strings.TrimSpace(title)))
	}
	if err := g.print(w, 0, widthOf(w)); err != nil {
		return err
	}
	rest := "rest"
	if claims == 1 {
		rest = "rests"
	}
	_, err := fmt.Fprintf(w, "%s, on which %s %s\n", count(len(works), "work"), count(claims, "claim"), rest)
	return err
}
