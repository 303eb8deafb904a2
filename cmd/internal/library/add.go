package library

import (
	"context"
	"errors"
	"iter"
	"runtime/debug"

	"hatchlore/cmd/internal/reader"
	"hatchlore/evidence/store"
	"hatchlore/ingest"
	"hatchlore/ingest/reference"
)

// Outcome says what became of one file.
type Outcome struct {
	Source string        `json:"source"`
	State  string        `json:"state"` // added, known, updated, matched, refused or left
	Paper  string        `json:"paper"`
	Pages  int           `json:"pages"`
	How    store.HowRead `json:"how"`
	Claims int           `json:"claims"`
	Why    string        `json:"why"` // why it was refused or left, or what is doubtful
}

// What can become of a file.
const (
	Added   = "added"
	Known   = "known"   // ingested before, nothing to do
	Updated = "updated" // ingested before, read anew
	Refused = "refused" // could not be read
	Left    = "left"    // is no paper
	Matched = "matched" // references, whose records were given to papers
)

// gcPercent is how much the heap may grow between collections during an ingest;
// Go's default is 100.
const gcPercent = 200

// softMemory is from how many bytes of Go's own on an ingest collects more often:
// a big library's index would else take the heap past what a small machine has.
const softMemory = 280 << 20

// AddAll adds the files to the library and reports each when it is done, in
// the order given: several are read at a time, one is stored at a time. A file
// that cannot be read does not keep the others out; the error is for what
// stops the whole, such as a full disk.
func (l *Library) AddAll(ctx context.Context, r *reader.Reader, files []reader.Found, report func(Outcome)) (err error) {
	// What is in use stays near a hundred megabytes; collecting half as often
	// saves a tenth of the time.
	defer debug.SetGCPercent(debug.SetGCPercent(gcPercent))
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(softMemory))
	release, err := l.store.Hold(ctx, "ingest")
	if err != nil {
		return err
	}
	defer release()
	l.gate.Lock()
	_, err = l.openToWrite(ctx, false)
	l.gate.Unlock()
	if err != nil {
		return err
	}
	defer func() {
		// What stopped the ingest is the news; an index that could not be
		// written as well is mended when it is next opened.
		defer r.Time(reader.StepIndex)()
		l.gate.Lock()
		defer l.gate.Unlock()
		if e := l.closeIndex(); err == nil {
			err = e
		}
	}()
	// References come last: they are about the papers.
	papers, refs := parted(files)
	if err := l.addPapers(ctx, r, papers, report); err != nil {
		return err
	}
	for _, f := range refs {
		out, err := l.match(ctx, f)
		if err != nil {
			return err
		}
		report(out)
	}
	return ctx.Err()
}

// addPapers adds papers. Of copies of one file the first is added: the others
// are told as known.
func (l *Library) addPapers(ctx context.Context, r *reader.Reader, papers []reader.Found, report func(Outcome)) error {
	look := func(ctx context.Context, f reader.Found) looked { return l.look(ctx, r, f) }
	firsts := map[string]Outcome{} // by content
	for x := range reader.InOrder(ctx, papers, look) {
		hash := x.content()
		first, again := firsts[hash]
		if again {
			x = looked{out: copyOf(first, x.out.Source), hash: hash}
		}
		if err := l.add(ctx, r, &x); err != nil {
			return err
		}
		if hash != "" && !again {
			firsts[hash] = x.out
		}
		report(x.out)
	}
	return nil
}

// copyOf says of a file that it holds what another does.
func copyOf(first Outcome, source string) Outcome {
	out := first
	out.Source, out.State, out.Why = source, Known, "a copy of "+first.Source
	return out
}

func parted(files []reader.Found) (papers, refs []reader.Found) {
	for _, f := range files {
		if f.Kind == reader.References {
			refs = append(refs, f)
		} else {
			papers = append(papers, f)
		}
	}
	return papers, refs
}

// looked is a file that was looked at: its reading, when it is a paper that
// is to be stored, or what else became of it.
type looked struct {
	out     Outcome
	hash    string // of a paper that is known
	reading *reader.Reading
	err     error
}

// content tells papers apart by what their files hold; it is "" where none was
// read.
func (x *looked) content() string {
	if x.reading != nil {
		return x.reading.Document.Hash
	}
	return x.hash
}

// look takes one paper from the file to its claims: characters, text, claims.
// A paper that is known is not read again.
func (l *Library) look(ctx context.Context, r *reader.Reader, f reader.Found) looked {
	x := looked{out: Outcome{Source: f.Path, Why: f.Why}}
	switch f.Kind {
	case reader.Other:
		x.out.State = Left
		return x
	case reader.OutOfReach:
		x.out.State = Refused
		return x
	}
	hash, size, err := reader.Hash(f.Path)
	if err != nil {
		x.out.State, x.out.Why = Refused, err.Error()
		return x
	}
	known, err := l.known(ctx, r, hash, &x.out)
	if err != nil || known {
		x.hash, x.err = hash, err
		return x
	}
	reading, err := r.ReadHashed(ctx, f.Path, hash, size)
	if err != nil {
		x.out.State, x.out.Why = Refused, err.Error()
		return x
	}
	x.reading = reading
	return x
}

// add takes one paper from its claims to its place: store, then index. What
// the store has and the index lacks is mended when the index is next opened. Of
// a paper that is known it is noted where it is now.
func (l *Library) add(ctx context.Context, r *reader.Reader, x *looked) error {
	switch {
	case x.err != nil:
		return x.err
	case x.hash != "":
		return l.store.FoundAt(ctx, x.hash, x.out.Source)
	case x.reading == nil:
		return nil
	}
	paper := paperOf(x.reading, r.RulesVersion())
	var err error
	if paper.Key, err = l.keyFor(ctx, x.reading); err != nil {
		return err
	}
	stop := r.Time(reader.StepStore)
	stored, err := l.store.Put(ctx, paper, x.reading.Claims)
	stop()
	if err != nil {
		return err
	}
	defer r.Time(reader.StepIndex)()
	head, err := l.store.Listing(ctx, stored.Key)
	if err != nil {
		return err
	}
	describe(&x.out, stored, head)
	return l.indexPages(ctx, head, sound(x.reading.Document.Pages), x.reading.Names)
}

// sound yields pages that are at hand.
func sound(pages []ingest.Page) iter.Seq2[ingest.Page, error] {
	return func(yield func(ingest.Page, error) bool) {
		for _, p := range pages {
			if !yield(p, nil) {
				return
			}
		}
	}
}

// known reports whether the file was ingested before and would be read no
// better today.
func (l *Library) known(ctx context.Context, r *reader.Reader, hash string, out *Outcome) (bool, error) {
	key, ok, err := l.store.Has(ctx, hash)
	if err != nil || !ok {
		return false, err
	}
	head, err := l.store.Listing(ctx, key)
	if err != nil {
		return false, err
	}
	if head.Reader != ingest.Version || head.Rules != r.RulesVersion() {
		return false, nil
	}
	if better, err := l.readBetter(ctx, r, head); better || err != nil {
		return false, err
	}
	fill(out, head)
	out.State = Known
	return true, nil
}

// readBetter reports whether the paper has unread pages that OCR may read,
// and that was not tried because tesseract was not installed then.
func (l *Library) readBetter(ctx context.Context, r *reader.Reader, head store.Listing) (bool, error) {
	if head.How.Unread == 0 {
		return false, nil
	}
	if has, err := r.HasOCR(); !has {
		return false, err
	}
	for page, err := range l.store.Pages(ctx, head.Paper) {
		if err != nil || page.NeedsOCR() {
			return err == nil, err
		}
	}
	return false, nil
}

// paperOf puts a reading by some version of the rules into the form that is
// stored.
func paperOf(reading *reader.Reading, rules string) store.Paper {
	doc, rec := reading.Document, reading.Record
	p := store.Paper{
		Hash: doc.Hash, Source: doc.Source, Size: reading.Size, Format: doc.Format,
		Title: rec.Title, Year: rec.Year, DOI: rec.DOI, Lang: doc.Lang,
		Journal: rec.Journal, Volume: rec.Volume, Extent: rec.Pages,
		Engine: reading.Engine, Pages: doc.Pages, Note: doc.Note,
		Reader: ingest.Version, Rules: rules,
	}
	for _, a := range rec.Authors {
		p.Authors = append(p.Authors, familyFirst(a))
	}
	return p
}

// familyFirst prints an author as "Family, Given".
func familyFirst(a reference.Author) string {
	if a.Given == "" {
		return a.Family
	}
	return a.Family + ", " + a.Given
}

// keyFor chooses the citation key of a paper: the one it has, else one of its
// own.
func (l *Library) keyFor(ctx context.Context, reading *reader.Reading) (string, error) {
	key, ok, err := l.store.Has(ctx, reading.Document.Hash)
	if err != nil || ok {
		return key, err
	}
	var failed error
	key = reference.Key(reading.Record, func(key string) bool {
		_, err := l.store.Listing(ctx, key)
		if err != nil && !errors.Is(err, store.ErrNoPaper) {
			failed = err
		}
		return err == nil
	})
	return key, failed
}

func describe(out *Outcome, stored store.Stored, head store.Listing) {
	fill(out, head)
	switch stored.Change {
	case store.Added:
		out.State = Added
	case store.Replaced:
		out.State = Updated
	default:
		out.State = Known
	}
}

func fill(out *Outcome, head store.Listing) {
	out.Paper, out.Pages, out.How, out.Claims, out.Why = head.Paper, head.Pages, head.How, head.Claims, head.Note
}
