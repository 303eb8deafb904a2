// Package reader reads papers: a file's characters, its text, the record of the
// paper and what it claims. add.go in package library shows what becomes of that.
//
// It refuses to store anything, and to let a paper that cannot be read pass
// without a reason: a sentence that begins with the path.
package reader

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"hatchlore/evidence"
	"hatchlore/evidence/rule"
	"hatchlore/ingest"
	"hatchlore/ingest/layout"
	"hatchlore/ingest/ocr"
	"hatchlore/ingest/pdf/process"
	"hatchlore/ingest/reference"
	"hatchlore/ingest/textfile"
	"hatchlore/species/name"
)

// Reader reads papers. Its methods may be called from several goroutines.
type Reader struct {
	pdf          *process.Reader
	rules        func() (*rule.Set, error) // waits until they are loaded
	rulesVersion string
	ocr          func() (*ocr.Engine, error) // nil where no tesseract is installed; asked for when a page needs it
	scans        chan struct{}               // holds an entry for each picture that is being read
	clock        *Clock
}

// Reading is one paper as read.
type Reading struct {
	Document *ingest.Document
	Record   reference.Record
	Claims   []evidence.Claim
	Engine   string // what read the file
	Size     int64  // bytes

	Names *name.Scope // whose names the pages use
}

// Options say how a Reader reads. The zero value reads as well as this machine
// can.
type Options struct {
	Clock *Clock                      // is told how long each step takes
	OCR   func() (*ocr.Engine, error) // finds what reads pictures of pages; a nil engine leaves them unread
	Rules *rule.Set                   // in place of the program's own
	As    string                      // the version of these rules
}

// NoOCR is an [Options] OCR that leaves pages without text unread, as on a
// machine without tesseract.
func NoOCR() (*ocr.Engine, error) { return nil, nil }

// New returns a Reader. Close it. The rules are loaded while the first paper is
// on its way.
func New(ctx context.Context, o Options) (*Reader, error) {
	r := &Reader{scans: make(chan struct{}, runtime.NumCPU()), clock: o.Clock, ocr: o.OCR, rulesVersion: o.As}
	if r.ocr == nil {
		r.ocr = sync.OnceValues(func() (*ocr.Engine, error) { return installed(ctx) })
	}
	r.rules = func() (*rule.Set, error) { return o.Rules, nil }
	if o.Rules == nil {
		if err := r.loadRules(); err != nil {
			return nil, err
		}
	}
	var err error
	if r.pdf, err = process.Start(ctx, process.Options{}); err != nil {
		return nil, err
	}
	return r, nil
}

// loadRules begins to load the program's rules.
func (r *Reader) loadRules() error {
	const wrong = "the rules cannot be read: %w"
	var err error
	if r.rulesVersion, err = rule.Version(); err != nil {
		return fmt.Errorf(wrong, err)
	}
	r.rules = sync.OnceValues(func() (*rule.Set, error) {
		set, err := rule.Load()
		if err != nil {
			return nil, fmt.Errorf(wrong, err)
		}
		return set, nil
	})
	go r.rules()
	return nil
}

// installed returns tesseract, nil where there is none.
func installed(ctx context.Context) (*ocr.Engine, error) {
	engine, err := ocr.Find(ctx)
	if errors.Is(err, ocr.ErrMissing) {
		return nil, nil
	}
	return engine, err
}

// Close ends the reader processes.
func (r *Reader) Close() error { return r.pdf.Close() }

// Time begins a step on the Reader's clock; the function that it returns ends it.
func (r *Reader) Time(step Step) func() { return r.clock.Start(step) }

// HasOCR reports whether pictures of pages can be read.
func (r *Reader) HasOCR() (bool, error) {
	engine, err := r.ocr()
	return engine != nil, err
}

// RulesVersion tells the rules apart from those before and after them.
func (r *Reader) RulesVersion() string { return r.rulesVersion }

// Rules returns the rules that the Reader goes by.
func (r *Reader) Rules() (*rule.Set, error) { return r.rules() }

// maxText is the largest text or HTML file that is taken for a paper. The
// longest monographs have some megabytes.
const maxText = 64 << 20

// Read reads one paper. The error is a sentence that begins with the path.
func (r *Reader) Read(ctx context.Context, path string) (*Reading, error) {
	hash, size, err := Hash(path)
	if err != nil {
		return nil, err
	}
	return r.ReadHashed(ctx, path, hash, size)
}

// ReadHashed is [Reader.Read] of a paper whose hash and size are known.
func (r *Reader) ReadHashed(ctx context.Context, path, hash string, size int64) (*Reading, error) {
	reading := &Reading{Size: size}
	var err error
	if formatOf(path) == "pdf" {
		err = r.readPDF(ctx, path, hash, reading)
	} else {
		err = readText(path, hash, size, reading)
	}
	if err != nil {
		return nil, err
	}
	if err := r.interpret(hash, reading); err != nil {
		return nil, err
	}
	if reading.Document.Format == "pdf" {
		defer r.clock.Start(StepWitness)()
		r.witness(ctx, path, reading.Claims)
	}
	return reading, ctx.Err()
}

// interpret finds the record and the claims of a paper in its text.
func (r *Reader) interpret(hash string, reading *Reading) error {
	rules, err := r.rules()
	if err != nil {
		return err
	}
	defer r.clock.Start(StepClaims)()
	doc := reading.Document
	reading.Record = record(doc)
	if doc.Title == "" {
		doc.Title = reading.Record.Title
	}
	reading.Names = rule.Names(doc)
	reading.Claims = rules.MatchNamed(doc, reading.Names)
	citeEntries(doc, reading.Claims)
	key := reference.Key(reading.Record, func(string) bool { return false })
	for i, c := range reading.Claims {
		reading.Claims[i].ID, reading.Claims[i].Paper = c.MakeID(hash), key
	}
	return nil
}

func (r *Reader) readPDF(ctx context.Context, path, hash string, into *Reading) error {
	stop := r.clock.Start(StepRead)
	file, err := r.pdf.Read(ctx, path)
	stop()
	if err != nil {
		return err
	}
	stop = r.clock.Start(StepAssemble)
	into.Document, into.Engine = layout.Assemble(path, hash, file), file.Engine
	stop()
	if !slices.ContainsFunc(into.Document.Pages, ingest.Page.NeedsOCR) {
		return nil
	}
	engine, err := r.ocr()
	if err != nil || engine == nil {
		return err
	}
	defer r.clock.Start(StepPictures)()
	if err := r.readPictures(ctx, engine, path, file, into.Document); err != nil {
		return err
	}
	into.Document = layout.Assemble(path, hash, file)
	return nil
}

func readText(path, hash string, size int64, into *Reading) error {
	switch {
	case size == 0:
		return fmt.Errorf("%s is empty; copy it again from where it came", path)
	case size > maxText:
		return fmt.Errorf("%s is larger than %d MB, too large for a paper; split it and ingest the parts", path, maxText>>20)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return fmt.Errorf("%s %s", path, reason(err))
	}
	into.Engine = "text"
	into.Document, err = textfile.Read(path, hash, data)
	return err
}

// Hash returns the SHA-256 of a file in hex, and its size.
func Hash(path string) (hash string, size int64, err error) {
	f, err := os.Open(path)
	if err != nil {
		return "", 0, fmt.Errorf("%s %s", path, reason(err))
	}
	defer f.Close()
	h := sha256.New()
	size, err = io.Copy(h, f)
	if err != nil {
		return "", 0, fmt.Errorf("%s %s", path, reason(err))
	}
	return hex.EncodeToString(h.Sum(nil)), size, nil
}

// record reads the bibliographic record from a document's first page that has
// words.
func record(doc *ingest.Document) reference.Record {
	for _, p := range doc.Pages {
		if strings.TrimSpace(p.Text) == "" {
			continue
		}
		lines := make([]reference.Line, 0, len(p.Lines))
		for _, l := range p.Lines {
			if inReferences(p, l.Start) {
				continue // a DOI there is another's
			}
			lines = append(lines, reference.Line{Text: p.Text[l.Start:l.End], Size: l.Size, X: l.X, Y: l.Y, Bold: l.Bold})
		}
		rec := reference.FirstPage(lines)
		rec.Stem = strings.TrimSuffix(filepath.Base(doc.Source), filepath.Ext(doc.Source))
		if doc.Title != "" && doc.Format != "pdf" {
			rec.Title = doc.Title
		}
		return rec
	}
	return reference.Record{Title: doc.Title}
}
