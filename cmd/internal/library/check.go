package library

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/ingest/ocr"
	"hatchlore/query/index"
)

// Finding is one line of a health check. State is good, mended or mind: the
// keeper can do something about the last.
type Finding struct {
	State string `json:"state"`
	About string `json:"about"`
	Note  string `json:"note"`
}

// Check looks whether the library is whole, brings the index in step with the
// store, and lists what would make the library better.
func (l *Library) Check(ctx context.Context, rebuild bool) ([]Finding, error) {
	counts, err := l.store.Counts(ctx)
	if err != nil {
		return nil, err
	}
	out := []Finding{{"good", "library", fmt.Sprintf("%s: %s, %s, %s", l.dir, trial.Plural(counts.Papers, "paper"), trial.Plural(counts.Pages, "page"), trial.Plural(counts.Claims, "claim"))}}
	faults, err := l.store.Faults(ctx)
	if err != nil {
		return nil, err
	}
	for _, f := range faults {
		out = append(out, Finding{"mind", "library", f + "; put back a backup, or move the library away and ingest the papers again"})
	}
	mended, err := l.checkIndex(ctx, rebuild)
	if err != nil {
		return nil, err
	}
	out = append(out, mended)
	papers, err := l.checkPapers(ctx)
	if err != nil {
		return nil, err
	}
	out = append(out, papers...)
	textless, err := l.Textless(ctx)
	if err != nil {
		return nil, err
	}
	if textless > 0 {
		out = append(out, Finding{"mind", "texts", fmt.Sprintf("%s from another library without text, which no search finds: ingest the files where you have them", trial.Plural(textless, "paper"))})
	}
	lost, err := l.store.Lost(ctx)
	if err != nil {
		return nil, err
	}
	for _, d := range lost {
		out = append(out, Finding{"mind", "decision", fmt.Sprintf("your decision of %s on %q is kept, but no page has these words now",
			d.At.Format("2006-01-02"), d.Reading.Quote)})
	}
	return append(out, tools(ctx)), nil
}

func (l *Library) checkIndex(ctx context.Context, asked bool) (Finding, error) {
	rebuild := asked
	if !rebuild {
		// Opening an index does not touch all of it: damage deep inside shows
		// only when every file is read.
		faults, err := index.Faults(ctx, l.indexPath())
		if err != nil && !index.NeedsRebuild(err) {
			return Finding{}, l.whoHolds(err)
		}
		rebuild = len(faults) > 0
	}
	m, err := l.openToWrite(ctx, rebuild)
	switch {
	case errors.Is(err, index.ErrReadOnly) && !asked:
		return Finding{"mind", "index", "may not be written by you, so that it was not looked through: make the library's folder writable"}, nil
	case err != nil:
		return Finding{}, err
	}
	switch {
	case m.rebuilt:
		return Finding{"mended", "index", "made anew from the library"}, nil
	case m.any():
		return Finding{"mended", "index", fmt.Sprintf("papers put in: %d, taken out: %d", m.added, m.removed)}, nil
	}
	return Finding{"good", "index", "in step with the library"}, nil
}

// checkPapers lists papers with unread pages, and those whose file is not
// what it was.
func (l *Library) checkPapers(ctx context.Context) ([]Finding, error) {
	var out []Finding
	moved := map[string][]Finding{} // by the folder that is gone
	for p, err := range l.store.Papers(ctx) {
		if err != nil {
			return nil, err
		}
		if p.How.Unread > 0 {
			why, err := l.unreadWhy(ctx, p)
			if err != nil {
				return nil, err
			}
			out = append(out, Finding{"mind", p.Paper, why})
		}
		if p.Format == store.FormatTrial || p.State == store.NoFile {
			continue // a result, or a source known from elsewhere, has no file
		}
		if _, err := l.store.File(ctx, p); err != nil {
			f := Finding{"mind", p.Paper, err.Error() + "; its text and claims are kept"}
			if folder := goneFolder(err); folder != "" {
				moved[folder] = append(moved[folder], f)
			} else {
				out = append(out, f)
			}
		}
	}
	for _, folder := range slices.Sorted(maps.Keys(moved)) {
		out = append(out, together(folder, moved[folder])...)
	}
	return out, nil
}

// goneFolder returns the folder of a file that is no longer where it was, when it is
// gone as a whole, "" else.
func goneFolder(err error) string {
	var moved *store.MovedError
	if !errors.As(err, &moved) {
		return ""
	}
	folder := filepath.Dir(moved.Path)
	if _, err := os.Stat(folder); !errors.Is(err, os.ErrNotExist) {
		return ""
	}
	for { // the uppermost folder that is gone: all below it went with it
		above := filepath.Dir(folder)
		if _, err := os.Stat(above); !errors.Is(err, os.ErrNotExist) || above == folder {
			return folder
		}
		folder = above
	}
}

// together tells in one line of papers that went with one folder.
func together(folder string, papers []Finding) []Finding {
	if len(papers) < 2 {
		return papers
	}
	return []Finding{{"mind", "files", fmt.Sprintf("%s is gone, and with it the files of %s; put it back, or ingest the papers from where they are now; their text and claims are kept",
		folder, trial.Plural(len(papers), "paper"))}}
}

// Textless counts the papers that came from another library with their claims
// and without their text.
func (l *Library) Textless(ctx context.Context) (int, error) {
	n := 0
	for p, err := range l.store.Papers(ctx) {
		if err != nil {
			return 0, err
		}
		if p.State == store.NoFile && p.Pages == 0 {
			n++
		}
	}
	return n, nil
}

func (l *Library) unreadWhy(ctx context.Context, p store.Listing) (string, error) {
	for page, err := range l.store.Pages(ctx, p.Paper) {
		if err != nil {
			return "", err
		}
		if page.Why != "" {
			return fmt.Sprintf("%s: %d of %d pages unread; page %d %s", p.Source, p.How.Unread, p.Pages, page.Number, page.Why), nil
		}
	}
	return fmt.Sprintf("%s: %d of %d pages unread", p.Source, p.How.Unread, p.Pages), nil
}

func tools(ctx context.Context) Finding {
	e, err := ocr.Find(ctx)
	switch {
	case errors.Is(err, ocr.ErrMissing):
		return Finding{"mind", "tesseract", "scanned pages stay unread: " + err.Error()}
	case err != nil:
		return Finding{"mind", "tesseract", err.Error()}
	}
	return Finding{"good", "tesseract", "installed, with " + strings.Join(e.Languages(), ", ")}
}
