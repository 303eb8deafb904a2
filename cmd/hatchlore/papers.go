package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/evidence/store"
)

func (a *app) papersCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "papers",
		Short: "the papers in the library and how each page was read",
		Example: `  hatchlore papers
  hatchlore papers --format csv > papers.csv`,
		Args: none,
	}
	cmd.AddCommand(a.papersEditCommand(), a.papersSameCommand(), a.papersWantedCommand())
	format := formatFlag(cmd, formatTable, formatJSONL, formatCSV)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		return a.withLibrary(func(lib *library.Library) error {
			papers, err := listings(cmd.Context(), lib)
			if err != nil {
				return err
			}
			return emit(cmd.OutOrStdout(), *format, papers, printPapers)
		})
	}
	return cmd
}

// withLibrary opens the library that the flags name, uses it and closes it.
func (a *app) withLibrary(use func(*library.Library) error) error { return a.opened(false, use) }

// withNewLibrary is withLibrary that makes a library where there is none.
func (a *app) withNewLibrary(use func(*library.Library) error) error { return a.opened(true, use) }

func (a *app) opened(create bool, use func(*library.Library) error) (err error) {
	dir, err := a.libraryFolder()
	if err != nil {
		return err
	}
	lib, err := library.Open(dir, create)
	if err != nil {
		return err
	}
	defer func() {
		if e := lib.Close(); err == nil {
			err = e
		}
	}()
	return use(lib)
}

func listings(ctx context.Context, lib *library.Library) ([]store.Listing, error) {
	var out []store.Listing
	for p, err := range lib.Store().Papers(ctx) {
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

func printPapers(w io.Writer, papers []store.Listing) error {
	g := &grid{heads: []string{"paper", "pages", "claims", "lang", "read", "authors, year, title"}}
	pages, claims := 0, 0
	for _, p := range papers {
		pages += p.Pages
		claims += p.Claims
		g.add(p.Paper, fmt.Sprint(p.Pages), fmt.Sprint(p.Claims), p.Lang, p.How.Words("text", "picture", "unread"), clean(citationLine(p)))
	}
	if err := g.print(w, 0, widthOf(w)); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "%s, %s, %s\n", count(len(papers), "paper"), count(pages, "page"), count(claims, "claim"))
	return err
}

// citationLine is a paper's authors, year and title, with what is to be said
// about its reading.
func citationLine(p store.Listing) string {
	var b strings.Builder
	if len(p.Authors) > 0 {
		b.WriteString(strings.Join(p.Authors, "; "))
		b.WriteString(" ")
	}
	if p.Year > 0 {
		fmt.Fprintf(&b, "(%d) ", p.Year)
	}
	b.WriteString(p.Title)
	if p.Note != "" {
		b.WriteString(" [" + p.Note + "]")
	}
	return b.String()
}
