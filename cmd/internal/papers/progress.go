package papers

import (
	"fmt"
	"io"
	"math"
	"os"
	"time"

	"golang.org/x/term"

	"hatchlore/cmd/internal/library"
	"hatchlore/evidence/trial"
)

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
		fmt.Fprintf(p.w, "0 of %s; one of scanned pages takes its time", trial.Plural(files, "file"))
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
	fmt.Fprintf(p.w, "%d of %s, %s a second, about %s left", p.done, trial.Plural(p.files, "file"),
		trial.Plural(int(math.Round(float64(p.pages)/spent.Seconds())), "page"), left.Round(time.Second))
}

// clear takes the progress line away before something else is printed.
func (p *progress) clear() {
	if p.w != nil {
		fmt.Fprint(p.w, "\r\x1b[K") // ECMA-48: erase to the end of the line
	}
}
