package library

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

// Reader reads papers: their text, their record and what they claim. It
// stores nothing, and its methods may be called from several goroutines.
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

	names *name.Scope // whose names the pages use
}

// NewReader returns a Reader. Close it. The rules are loaded while the first
// paper is on its way.
func NewReader(ctx context.Context) (*Reader, error) {
	version, err := rule.Version()
	if err != nil {
		return nil, fmt.Errorf("the rules cannot be read: %w", err)
	}
	rules := sync.OnceValues(func() (*rule.Set, error) {
		set, err := rule.Load()
		if err != nil {
			return nil, fmt.Errorf("the rules cannot be read: %w", err)
		}
		return set, nil
	})
	go rules()
	r, err := process.Start(ctx, process.Options{})
	if err != nil {
		return nil, err
	}
	return &Reader{
		pdf: r, rules: rules, rulesVersion: version, scans: make(chan struct{}, runtime.NumCPU()),
		ocr: sync.OnceValues(func() (*ocr.Engine, error) { return installed(ctx) }),
	}, nil
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

// Measure makes the Reader tell the clock how long its steps take, and those of
// papers added with it. It must be called before anything is read.
func (r *Reader) Measure(c *Clock) { r.clock = c }

// LeavePictures makes the Reader leave pages without text unread, as on a
// machine without tesseract. It must be called before anything is read.
func (r *Reader) LeavePictures() { r.ocr = func() (*ocr.Engine, error) { return nil, nil } }

// Rules returns the rules that the Reader goes by.
func (r *Reader) Rules() (*rule.Set, error) { return r.rules() }

// maxText is the largest text or HTML file that is taken for a paper. The
// longest monographs have some megabytes.
const maxText = 64 << 20

// Read reads one paper. The error is a sentence that begins with the path.
func (r *Reader) Read(ctx context.Context, path string) (*Reading, error) {
	hash, size, err := hashFile(path)
	if err != nil {
		return nil, err
	}
	return r.read(ctx, path, hash, size)
}

// read reads a paper whose hash and size are known.
func (r *Reader) read(ctx context.Context, path, hash string, size int64) (*Reading, error) {
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
		defer r.clock.start(StepWitness)()
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
	defer r.clock.start(StepClaims)()
	doc := reading.Document
	reading.Record = record(doc)
	if doc.Title == "" {
		doc.Title = reading.Record.Title
	}
	reading.names = rule.Names(doc)
	reading.Claims = rules.MatchNamed(doc, reading.names)
	citeEntries(doc, reading.Claims)
	key := reference.Key(reading.Record, func(string) bool { return false })
	for i, c := range reading.Claims {
		reading.Claims[i].ID, reading.Claims[i].Paper = c.MakeID(hash), key
	}
	return nil
}

func (r *Reader) readPDF(ctx context.Context, path, hash string, into *Reading) error {
	stop := r.clock.start(StepRead)
	file, err := r.pdf.Read(ctx, path)
	stop()
	if err != nil {
		return err
	}
	stop = r.clock.start(StepAssemble)
	into.Document, into.Engine = layout.Assemble(path, hash, file), file.Engine
	stop()
	if !slices.ContainsFunc(into.Document.Pages, ingest.Page.NeedsOCR) {
		return nil
	}
	engine, err := r.ocr()
	if err != nil || engine == nil {
		return err
	}
	defer r.clock.start(StepPictures)()
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
	if err != nil {
		return fmt.Errorf("%s %w", path, err)
	}
	return nil
}

// hashFile returns the SHA-256 of a file in hex, and its size.
func hashFile(path string) (hash string, size int64, err error) {
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
