// Package process reads PDFs in processes of their own (the running binary,
// executed again), which are kept alive between files and killed and replaced
// after a time limit, a memory limit or an engine error, so that no file can
// take its caller down.
//
// A program that uses [Start] hands its process over at the very top of main,
// and a test binary in TestMain:
//
//	if process.Serving() {
//		if err := process.Serve(os.Stdin, os.Stdout); err != nil {
//			fmt.Fprintln(os.Stderr, err)
//			os.Exit(1)
//		}
//		return
//	}
//
// It refuses to share a process between two files at a time: what one does to
// it would be the other's loss.
package process

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"sync"
	"time"

	"hatchlore/ingest/pdf"
	"hatchlore/ingest/pdf/pdfium"
)

// Options of a [Reader]. The zero value is good for most.
type Options struct {
	Processes   int           // reader processes side by side; 0: one a core
	Time        time.Duration // for opening a file, and for any one page; 0: 10 s
	TimePerPage time.Duration // added for each page of the file; 0: half a second
	Memory      int64         // bytes a reader process may hold; 0: 512 MB
}

const (
	defaultTime        = 10 * time.Second
	defaultTimePerPage = 500 * time.Millisecond
	defaultMemory      = 512 << 20
)

// Reader reads PDFs in processes of their own. Its methods may be called from
// several goroutines; each call has a process to itself.
type Reader struct {
	opt    Options
	slots  chan *child // one entry a process; nil for one that is not running
	starts chan start
	boot   sync.Mutex // held during the first start, which fills the engine's cache
	booted bool
	closed chan struct{}
	once   sync.Once
}

type start struct {
	reply chan<- started
}

type started struct {
	p   *child
	err error
}

// ErrClosed is returned by a Reader that has been closed.
var ErrClosed = errors.New("the PDF reader is closed")

// Start returns a Reader. Processes are started when they are first needed;
// the context ends them all, as does Close.
func Start(ctx context.Context, opt Options) (*Reader, error) {
	if Serving() {
		return nil, errors.New("a reader process cannot start readers: its program does not hand over to process.Serve")
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if opt.Processes <= 0 {
		opt.Processes = runtime.NumCPU()
	}
	if opt.Time <= 0 {
		opt.Time = defaultTime
	}
	if opt.TimePerPage <= 0 {
		opt.TimePerPage = defaultTimePerPage
	}
	if opt.Memory <= 0 {
		opt.Memory = defaultMemory
	}
	r := &Reader{opt: opt, slots: make(chan *child, opt.Processes), starts: make(chan start), closed: make(chan struct{})}
	for range opt.Processes {
		r.slots <- nil
	}
	go r.nurse()
	stop := context.AfterFunc(ctx, func() { r.Close() })
	go func() {
		<-r.closed
		stop()
	}()
	return r, nil
}

// nurse starts processes, all from one thread that lives as long as the
// Reader: a child tied to its parent dies with the thread that started it.
func (r *Reader) nurse() {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	for {
		select {
		case s := <-r.starts:
			p, err := newChild(r.opt.Memory)
			if err == nil {
				p.closed = r.closed
			}
			s.reply <- started{p, err}
		case <-r.closed:
			return
		}
	}
}

// Close ends the reader processes; calls still under way fail with their
// process. It returns when none is left.
func (r *Reader) Close() error {
	r.once.Do(func() {
		close(r.closed)
		for range r.opt.Processes {
			if p := <-r.slots; p != nil {
				p.close()
			}
		}
	})
	return nil
}

// acquire waits for a free process and starts it when it is not running.
func (r *Reader) acquire(ctx context.Context) (*child, error) {
	select {
	case <-r.closed:
		return nil, ErrClosed
	default:
	}
	var p *child
	select {
	case p = <-r.slots:
	case <-r.closed:
		return nil, ErrClosed
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	if p != nil && p.alive() {
		return p, nil
	}
	p, err := r.fresh(ctx)
	if err != nil {
		r.slots <- nil
		return nil, err
	}
	return p, nil
}

// fresh starts a process and waits for its engine. While the cache is empty the
// first start is made alone, so that the others find the engine compiled there.
func (r *Reader) fresh(ctx context.Context) (*child, error) {
	r.boot.Lock()
	if r.booted || pdfium.Cached() {
		r.boot.Unlock()
		return r.launch(ctx)
	}
	defer r.boot.Unlock()
	p, err := r.launch(ctx)
	r.booted = err == nil
	return p, err
}

func (r *Reader) launch(ctx context.Context) (*child, error) {
	reply := make(chan started, 1)
	select {
	case r.starts <- start{reply}:
	case <-r.closed:
		return nil, ErrClosed
	}
	s := <-reply
	if s.err != nil {
		return nil, s.err
	}
	if err := s.p.await(ctx); err != nil {
		s.p.kill()
		return nil, err
	}
	return s.p, nil
}

// release puts a process back, or a vacancy where it is of no more use.
func (r *Reader) release(p *child, sound bool) {
	if !sound {
		p.kill()
		p = nil
	} else if p.bloated() {
		p.close()
		p = nil
	}
	r.slots <- p
}

// maxResumes is how many bad pages a file may have before its rest is given up.
const maxResumes = 3

// Read reads every page of the file. A page that stops the engine is left out
// with its Err set, and reading goes on behind it in a fresh process; after
// the third such page the rest is marked unread. The error is one of
// package pdf's, or the context's, and begins with the path.
func (r *Reader) Read(ctx context.Context, path string) (*pdf.File, error) {
	job := &reading{opt: r.opt}
	for resumes := 0; ; resumes++ {
		err := r.attempt(ctx, request{task: taskRead, path: path, from: len(job.file.Pages) + 1}, job)
		if err == nil {
			return job.finish(path)
		}
		if job.head.pages == 0 || !stopsAtPage(err) {
			return nil, named(path, job.blame(err))
		}
		job.stopped = err
		bad := len(job.file.Pages) + 1
		job.file.Pages = append(job.file.Pages, pdf.Page{Number: bad, Err: pageSentence(err)})
		if resumes+1 == maxResumes || job.overdue() {
			job.giveUp()
		}
		if len(job.file.Pages) == job.head.pages {
			return job.finish(path)
		}
		job.resume()
	}
}

func (r *Reader) attempt(ctx context.Context, q request, job *reading) error {
	p, err := r.acquire(ctx)
	if err != nil {
		return err
	}
	if job.begun.IsZero() {
		job.begun = time.Now() // waiting for a process is not the file's fault
	}
	err = p.ask(ctx, q, job.left, job.take)
	r.release(p, err == nil || job.answered)
	return err
}

// named puts the file's name before what is wrong with it, so that both read
// as one sentence.
func named(path string, err error) error {
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) || errors.Is(err, ErrClosed) {
		return fmt.Errorf("%s was not read: %w", path, err)
	}
	return fmt.Errorf("%s %w", path, err)
}

// stopsAtPage reports whether an error may be the fault of a single page.
func stopsAtPage(err error) bool {
	return errors.Is(err, pdf.ErrSlow) || errors.Is(err, pdf.ErrMemory) || errors.Is(err, pdf.ErrEngine) || errors.Is(err, errGone)
}

func pageSentence(err error) string {
	switch {
	case errors.Is(err, pdf.ErrSlow):
		return "the page takes too long to read"
	case errors.Is(err, pdf.ErrMemory):
		return "the page needs too much memory to read"
	default:
		return "the page makes the PDF engine fail"
	}
}

// Witness returns what the second reader prints on the given pages, by page
// number. Pages, and whole files, that it cannot read are missing from the
// map; an error means that the file could not be looked at.
func (r *Reader) Witness(ctx context.Context, path string, pages []int) (map[int]string, error) {
	out := map[int]string{}
	job := &reading{opt: r.opt}
	job.head.pages = len(pages)
	job.text = func(page int, text string) { out[page] = text }
	err := r.attempt(ctx, request{task: taskWitness, path: path, pages: pages}, job)
	if err != nil && !stopsAtPage(err) {
		return nil, named(path, err)
	}
	return out, nil
}

// Picture draws a page, counted from 1, as PNG at the given resolution, 20 to
// 600 dots an inch; a page too large for it is drawn at the highest that fits.
func (r *Reader) Picture(ctx context.Context, path string, page, dpi int) ([]byte, error) {
	job := &reading{opt: r.opt}
	err := r.attempt(ctx, request{task: taskPicture, path: path, from: page, dpi: min(max(dpi, 20), 600)}, job)
	if err != nil {
		return nil, named(path, job.blame(err))
	}
	return job.png, nil
}
