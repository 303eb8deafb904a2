package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"hatchlore/cmd/internal/library"
)

func (a *app) ingestCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "ingest PATH...",
		Short: "add papers, or folders of papers, to the library",
		Long: `Reads each paper, finds what it claims about hatching, and keeps both in the library. The
papers stay where they are. Ingesting again is safe: a paper that is already there is left
alone unless this version reads it better. Papers are .pdf, .txt, .md and .html files. Records in
.bib, .ris and CSL-JSON (.json) files are given to the papers that they are about, by DOI, else title.`,
		Example: "  hatchlore ingest ~/papers",
		Args:    some("a paper or a folder of papers"),
	}
	format := formatFlag(cmd, formatTable, formatJSONL, formatCSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return a.ingest(cmd.Context(), args, *format, cmd.OutOrStdout(), cmd.ErrOrStderr())
	}
	return cmd
}

func (a *app) ingest(ctx context.Context, paths []string, format string, stdout, stderr io.Writer) error {
	files := library.Find(paths)
	if !anyPaper(files) && !anyReference(files) {
		return noPaper(files, paths)
	}
	var outcomes []library.Outcome
	err := a.withNewLibrary(func(lib *library.Library) (err error) {
		outcomes, err = addAll(ctx, lib, files, format, stdout, stderr)
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

// addAll ingests files, printing each outcome when it is known.
func addAll(ctx context.Context, lib *library.Library, files []library.Found, format string, stdout, stderr io.Writer) ([]library.Outcome, error) {
	reader, err := library.NewReader(ctx)
	if err != nil {
		return nil, err
	}
	defer reader.Close()
	var outcomes []library.Outcome
	var failed error
	progress := newProgress(stderr, len(files))
	err = lib.AddAll(ctx, reader, files, func(o library.Outcome) {
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
	if format == formatTable {
		_, err = fmt.Fprintln(stdout, tally(outcomes))
	}
	return outcomes, err
}

func anyPaper(files []library.Found) bool {
	return slices.ContainsFunc(files, library.Found.Paper)
}

func anyReference(files []library.Found) bool {
	return slices.ContainsFunc(files, func(f library.Found) bool { return f.State == library.Matched })
}

func noPaper(files []library.Found, paths []string) error {
	if len(files) == 1 && files[0].Path == paths[0] {
		return fmt.Errorf("%s %s", files[0].Path, files[0].Why)
	}
	for _, f := range files {
		if f.State == library.Refused {
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
	case formatJSONL:
		return emitJSONL(w, []library.Outcome{o})
	case formatCSV:
		return emitCSVRows(w, []library.Outcome{o}, first)
	}
	_, err := fmt.Fprintln(w, outcomeLine(o))
	return err
}

func outcomeLine(o library.Outcome) string {
	line := pad(o.State, len("refused")) + "  "
	if o.State == library.Refused || o.State == library.Left {
		// The reason reads on from the path.
		why := o.Why
		if !strings.HasPrefix(why, o.Source) {
			why = o.Source + " " + why
		}
		return line + clean(why)
	}
	if o.State == library.Matched {
		return line + clean(o.Source) + "  " + clean(o.Why)
	}
	line += fmt.Sprintf("%s  %s: %s, %s", clean(o.Source), o.Paper, count(o.Pages, "page"), count(o.Claims, "claim"))
	if o.How.OCR > 0 {
		line += fmt.Sprintf(", %d read from pictures", o.How.OCR)
	}
	if o.How.Unread > 0 {
		line += fmt.Sprintf(", %d unread", o.How.Unread)
	}
	if o.Why != "" {
		line += "; " + clean(o.Why)
	}
	return line
}

func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
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
	return fmt.Sprintf("%s: %s; %s, %s", count(len(outcomes), "file"), strings.Join(parts, ", "), count(pages, "page"), count(claims, "claim"))
}

// progress shows on a terminal how far an ingest is. In a pipe it shows
// nothing: there the outcomes are the progress.
type progress struct {
	w           io.Writer // nil: show nothing
	files       int
	done, pages int
	since       time.Time
}

func newProgress(w io.Writer, files int) *progress {
	p := &progress{files: files, since: time.Now()}
	if f, ok := w.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		p.w = w
		fmt.Fprintf(p.w, "0 of %s; one of scanned pages takes its time", count(files, "file"))
	}
	return p
}

func (p *progress) show(o library.Outcome) {
	p.done++
	p.pages += o.Pages
	if p.w == nil || p.done == p.files {
		return
	}
	spent := time.Since(p.since)
	left := spent / time.Duration(p.done) * time.Duration(p.files-p.done)
	fmt.Fprintf(p.w, "%d of %s, %s a second, about %s left", p.done, count(p.files, "file"),
		count(int(math.Round(float64(p.pages)/spent.Seconds())), "page"), left.Round(time.Second))
}

// clear takes the progress line away before something else is printed.
func (p *progress) clear() {
	if p.w != nil {
		fmt.Fprint(p.w, "\r\x1b[K") // ECMA-48: erase to the end of the line
	}
}
