// Package papers has the commands about papers: ingest adds them, read only
// shows what is in them, papers lists those of the library and mends their
// references.
//
// It refuses to let a paper go unmentioned: each one named is told with what
// became of it.
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
	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
)

// Command is the command that lists the papers of the library, with those below
// it.
func Command(at *library.Place) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "papers",
		Short: "the papers in the library and how each page was read",
		Example: `  hatchlore papers
  hatchlore papers --format csv > papers.csv`,
		Args: usage.None,
	}
	cmd.AddCommand(dropCommand(at), editCommand(at), sameCommand(at), wantedCommand(at))
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		return at.Use(func(lib *library.Library) error {
			papers, err := lib.Papers(cmd.Context())
			if err != nil {
				return err
			}
			return listing.Emit(cmd.OutOrStdout(), *format, papers, Print)
		})
	}
	return cmd
}

// Print lists papers for a person.
func Print(w io.Writer, papers []store.Listing) error {
	g := &terminal.Grid{Heads: []string{"paper", "pages", "claims", "lang", "read", "authors, year, title"}}
	pages, claims := 0, 0
	for _, p := range papers {
		pages += p.Pages
		claims += p.Claims
		g.Add(p.Paper, fmt.Sprint(p.Pages), fmt.Sprint(p.Claims), p.Lang, p.How.Words("text", "picture", "unread"), citationLine(p))
	}
	if err := g.Print(w, 0, terminal.Width(w)); err != nil {
		return err
	}
	return terminal.Say(w, "%s, %s, %s", trial.Plural(len(papers), "paper"), trial.Plural(pages, "page"), trial.Plural(claims, "claim"))
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
