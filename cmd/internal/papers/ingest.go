package papers

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/reader"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/trial"
)

// Ingest is the command that adds papers to the library.
func Ingest(at *library.Place) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "ingest PATH...",
		Short: "add papers, or folders of papers, to the library",
		Long: `Reads each paper, finds what it claims about hatching, and keeps both in the library. The
papers stay where they are. Ingesting again is safe: a paper that is already there is left
alone unless this version reads it better. Papers are .pdf, .txt, .md and .html files. Records in
.bib, .ris and CSL-JSON (.json) files are given to the papers that they are about, by DOI, else title.`,
		Example: "  hatchlore ingest ~/papers",
		Args:    usage.Some("a paper or a folder of papers"),
	}
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return addPaths(cmd.Context(), at, args, *format, cmd.OutOrStdout(), cmd.ErrOrStderr())
	}
	return cmd
}

func addPaths(ctx context.Context, at *library.Place, paths []string, format string, stdout, stderr io.Writer) error {
	files := reader.Find(paths)
	if !anyPaper(files) && !anyReference(files) {
		return noPaper(files, paths)
	}
	var outcomes []library.Outcome
	err := at.UseNew(func(lib *library.Library) (err error) {
		outcomes, err = AddAll(ctx, lib, files, format, stdout, stderr)
		return err
	})
	if err != nil {
		return err
	}
	if allFailed(outcomes) {
		return fmt.Errorf("nothing could be read; each file is listed with its reason")
	}
	if unread := namedUnread(paths, outcomes); len(unread) > 0 {
		return fmt.Errorf("%s could not be read, for the reason listed; the rest is done", strings.Join(unread, ", "))
	}
	return nil
}

// namedUnread returns which of the paths that the keeper named could not be read.
func namedUnread(paths []string, outcomes []library.Outcome) []string {
	var out []string
	for _, o := range outcomes {
		if o.State == library.Refused && slices.Contains(paths, o.Source) {
			out = append(out, o.Source)
		}
	}
	return out
}

// AddAll ingests files, printing each outcome when it is known.
func AddAll(ctx context.Context, lib *library.Library, files []reader.Found, format string, stdout, stderr io.Writer) ([]library.Outcome, error) {
	r, err := reader.New(ctx, reader.Options{})
	if err != nil {
		return nil, err
	}
	defer r.Close()
	var outcomes []library.Outcome
	var failed error
	progress := newProgress(stderr, len(files))
	err = lib.AddAll(ctx, r, files, func(o library.Outcome) {
		outcomes = append(outcomes, o)
		progress.clear()
		if e := printOutcome(stdout, format, len(outcomes) == 1, o); e != nil && failed == nil {
			failed = e
		}
		progress.show(o)
	})
	progress.clear()
	if err = errors.Join(err, failed); err != nil {
		return outcomes, err
	}
	if format == listing.Table {
		_, err = fmt.Fprintln(stdout, tally(outcomes))
	}
	return outcomes, err
}

func anyPaper(files []reader.Found) bool {
	return slices.ContainsFunc(files, func(f reader.Found) bool { return f.Kind == reader.Paper })
}

func anyReference(files []reader.Found) bool {
	return slices.ContainsFunc(files, func(f reader.Found) bool { return f.Kind == reader.References })
}

func noPaper(files []reader.Found, paths []string) error {
	if len(files) == 1 && files[0].Path == paths[0] {
		return fmt.Errorf("%s %s", files[0].Path, files[0].Why)
	}
	for _, f := range files {
		if f.Kind == reader.OutOfReach {
			return fmt.Errorf("%s %s", f.Path, f.Why)
		}
	}
	return fmt.Errorf("there are no papers in %s; papers are .pdf, .txt, .md and .html files", strings.Join(paths, ", "))
}

// allFailed reports whether there was something to do and nothing of it was
// done.
func allFailed(outcomes []library.Outcome) bool {
	for _, o := range outcomes {
		if o.State != library.Refused && o.State != library.Left {
			return false
		}
	}
	return len(outcomes) > 0
}

func printOutcome(w io.Writer, format string, first bool, o library.Outcome) error {
	switch format {
	case listing.JSONL:
		return listing.WriteJSONL(w, []library.Outcome{o})
	case listing.CSV:
		return listing.WriteCSVRows(w, []library.Outcome{o}, first)
	}
	_, err := fmt.Fprintln(w, outcomeLine(o))
	return err
}

func outcomeLine(o library.Outcome) string {
	line := terminal.Pad(o.State, len("refused")) + "  "
	if o.State == library.Refused || o.State == library.Left {
		// The reason reads on from the path.
		why := o.Why
		if !strings.HasPrefix(why, o.Source) {
			why = o.Source + " " + why
		}
		return line + terminal.Clean(why)
	}
	if o.State == library.Matched {
		return line + terminal.Clean(o.Source) + "  " + terminal.Clean(o.Why)
	}
	line += fmt.Sprintf("%s  %s: %s, %s", terminal.Clean(o.Source), o.Paper, trial.Plural(o.Pages, "page"), trial.Plural(o.Claims, "claim"))
	if o.How.OCR > 0 {
		line += fmt.Sprintf(", %d read from pictures", o.How.OCR)
	}
	if o.How.Unread > 0 {
		line += fmt.Sprintf(", %d unread", o.How.Unread)
	}
	if o.Why != "" {
		line += "; " + terminal.Clean(o.Why)
	}
	return line
}

// tally counts the files, and the pages and claims of their papers: those of
// two copies once.
func tally(outcomes []library.Outcome) string {
	n := map[string]int{}
	pages, claims := 0, 0
	counted := map[string]bool{}
	for _, o := range outcomes {
		n[o.State]++
		if counted[o.Paper] {
			continue
		}
		counted[o.Paper] = o.Paper != ""
		pages += o.Pages
		claims += o.Claims
	}
	var parts []string
	for _, s := range []string{library.Added, library.Updated, library.Known, library.Matched, library.Refused, library.Left} {
		if n[s] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n[s], s))
		}
	}
	return fmt.Sprintf("%s: %s; %s, %s", trial.Plural(len(outcomes), "file"), strings.Join(parts, ", "), trial.Plural(pages, "page"), trial.Plural(claims, "claim"))
}
