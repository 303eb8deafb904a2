// Package intake takes papers that are dropped on the local page into the
// library: it receives the form, keeps the files in the library's folder, has
// them read, and tells what became of each.
//
// It refuses files without the token of the page's own form before any of them
// is kept, names that lead out of its folder or hide in it, and what is larger
// than a paper; a file that was refused or is known already is not kept.
package intake

import (
	"context"
	"embed"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"hatchlore/evidence/store"
	"hatchlore/query/web/address"
	"hatchlore/query/web/guard"
	"hatchlore/query/web/refuse"
	"hatchlore/query/web/site"
)

// Reader reads papers into the library.
type Reader interface {
	// Kinds are the endings of files that papers come in, as ".pdf".
	Kinds() []string
	// Add reads papers into the library and reports each when it is done; the
	// error is for what stops the whole.
	Add(ctx context.Context, paths []string, report func(Outcome)) error
}

//go:embed templates/*.html
var templates embed.FS

// Intake is the form that takes papers, with those that are being read.
type Intake struct {
	site   *site.Site
	reader Reader
	reading
	stop context.CancelFunc
}

// Enter enters the form into a site.
func Enter(s *site.Site, r Reader) (*Intake, error) {
	t := &Intake{site: s, reader: r}
	t.ctx, t.stop = context.WithCancel(context.Background())
	t.add, t.done = r.Add, t.settle
	s.Guard.Parts(address.Add, mostSent)
	s.Tab("add", address.Add, "Add papers")
	s.Page("GET "+address.Add, t.form)
	s.Form("POST "+address.Add, t.receive)
	return t, s.Templates(templates, nil)
}

// Close ends the reading of papers that is under way; what was read is in the
// library.
func (t *Intake) Close() {
	t.stop()
	t.workers.Wait()
}

func (t *Intake) form(r *http.Request) (site.View, error) {
	page := formPage{Job: t.state(), Kinds: strings.Join(t.reader.Kinds(), ","), Most: maxPaper >> 20, Folder: t.folder()}
	v := site.View{Name: "add", Title: "Add papers", Here: "add", Script: "add", Data: page}
	if page.Job.Running && !r.URL.Query().Has(still) {
		v.Again = againAfter
	}
	return v, nil
}

// againAfter is after how many seconds a page of papers that are being read is asked
// for anew, unless its address has still in it: files that were chosen are lost by that.
const (
	againAfter = 2
	still      = "still"
)

// formPage is the form with what was sent before.
type formPage struct {
	Job    progress
	Kinds  string // endings of files, as the accept attribute takes them
	Most   int    // MB of one paper
	Folder string
}

// mostSent bounds what is sent at once.
const mostSent = 600 << 20

// maxPaper bounds one paper, as the PDF reader does.
const maxPaper = 150 << 20

// mostParts bounds the files sent at once.
const mostParts = 500

// receive takes the papers of a form, keeps them in the library's folder and
// has them read.
func (t *Intake) receive(r *http.Request) (site.Answer, error) {
	parts, err := r.MultipartReader()
	if err != nil {
		return nil, refuse.Wrong("papers are sent with the form on this page")
	}
	kept, err := t.takeFiles(parts, t.site.Guard.Check(r.Header.Get(guard.TokenHeader)))
	switch {
	case err != nil:
		t.discard(kept)
		return nil, err
	case len(kept) == 0:
		return nil, refuse.Wrong("no file was chosen; choose one or more papers")
	}
	t.take(kept)
	return site.Place(address.Add), nil
}

// takeFiles keeps the files of a form, part by part: its token comes before
// them, unless a header brought it. stranger is why no file may be kept yet, nil
// for nothing.
func (t *Intake) takeFiles(parts *multipart.Reader, stranger error) (kept []received, err error) {
	for n := 0; ; n++ {
		part, err := parts.NextPart()
		switch {
		case errors.Is(err, io.EOF):
			return kept, stranger
		case err != nil:
			return kept, broken(err)
		case part.FormName() == guard.TokenField:
			token, err := io.ReadAll(io.LimitReader(part, longestToken))
			if err != nil {
				return kept, broken(err)
			}
			stranger = t.site.Guard.Check(string(token))
			continue
		case stranger != nil:
			return kept, stranger
		case part.FileName() == "":
			continue
		case n > mostParts:
			return kept, refuse.Wrong(fmt.Sprintf("that is more than %d files at once; send them in parts, or name the folder: hatchlore ingest FOLDER", mostParts))
		}
		f, err := t.takeFile(part)
		if err != nil {
			return kept, err
		}
		kept = append(kept, f)
	}
}

// longestToken is more than any token has.
const longestToken = 256

// broken tells why a form could not be read to its end.
func broken(err error) error {
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		return guard.TooLarge(large.Limit)
	}
	return refuse.Wrong("the papers did not arrive whole; send them again")
}

// takeFile keeps one file of the form, or the reason why it was left.
func (t *Intake) takeFile(part *multipart.Part) (received, error) {
	name := fileName(part.FileName())
	if !slices.Contains(t.reader.Kinds(), strings.ToLower(filepath.Ext(name))) {
		return received{name: name, why: "is no paper: papers are " + strings.Join(t.reader.Kinds(), " ")}, nil
	}
	return keepFile(t.folder(), name, part)
}

func (t *Intake) folder() string {
	dir, err := filepath.Abs(t.site.Store().Dir())
	if err != nil { // only where the working folder is gone
		dir = t.site.Store().Dir()
	}
	return filepath.Join(dir, store.PaperFolder)
}

// discard removes files that will not be read after all.
func (t *Intake) discard(files []received) {
	for _, f := range files {
		t.remove(f)
	}
}

// remove removes what was kept of a file, unless it lay there already.
func (t *Intake) remove(f received) {
	if !f.fresh {
		return
	}
	if err := os.Remove(f.path); err != nil && !errors.Is(err, os.ErrNotExist) {
		site.Log(f.path, err)
	}
}

// settle keeps the file of a paper that was taken, and no second file of one
// that was known: unless its first has gone.
func (t *Intake) settle(f received, o Outcome) {
	if o.Taken && o.State != "known" {
		return
	}
	if o.Taken {
		head, err := t.site.Store().Listing(t.ctx, o.Paper)
		if err != nil {
			return // better a copy too many
		}
		if at, err := t.site.Store().File(t.ctx, head); err != nil || at == f.path {
			return
		}
	}
	t.remove(f)
}
