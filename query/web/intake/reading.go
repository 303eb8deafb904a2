package intake

import (
	"context"
	"errors"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"hatchlore/evidence/store"
)

// Outcome says what became of a paper that was to be read.
type Outcome struct {
	Path   string
	State  string // added, known, updated, refused, left
	Taken  bool   // it is in the library now
	Paper  string // citation key
	Pages  int
	OCR    int
	Unread int
	Claims int
	Why    string // why it was refused or left, or what is doubtful
}

// reading reads the papers that were sent, one lot after the other. What came
// of them is kept until the next lot.
type reading struct {
	add  func(ctx context.Context, paths []string, report func(Outcome)) error
	done func(received, Outcome) // told of each paper

	mu      sync.Mutex
	queue   []received
	files   map[string]received // by path
	job     progress
	workers sync.WaitGroup
	ctx     context.Context
}

// progress is how far the reading of papers is.
type progress struct {
	Running bool
	Total   int
	Done    []line
	Waiting string // for whom, when another process has the library
	Failed  string
}

type line struct {
	Outcome
	Name string
}

// Percent is how much of the work is done.
func (p progress) Percent() int { return 100 * len(p.Done) / max(p.Total, 1) }

// state returns a copy of how far the work is.
func (r *reading) state() progress {
	r.mu.Lock()
	defer r.mu.Unlock()
	out := r.job
	out.Done = slices.Clone(r.job.Done)
	return out
}

// take starts reading files, or puts them behind those that are being read.
func (r *reading) take(files []received) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if !r.job.Running {
		r.job, r.files = progress{}, map[string]received{}
	}
	r.job.Total += len(files)
	for _, f := range files {
		if f.path == "" {
			r.job.Done = append(r.job.Done, line{Outcome{State: "left", Why: f.why}, f.name})
			continue
		}
		if _, twice := r.files[f.path]; twice {
			r.job.Total--
			continue
		}
		r.files[f.path] = f
		r.queue = append(r.queue, f)
	}
	if !r.job.Running && len(r.queue) > 0 {
		r.job.Running = true
		r.workers.Go(r.work)
	}
}

// next takes the whole queue; none ends the work.
func (r *reading) next() []string {
	r.mu.Lock()
	defer r.mu.Unlock()
	var paths []string
	for _, f := range r.queue {
		paths = append(paths, f.path)
	}
	r.queue = nil
	if len(paths) == 0 {
		r.job.Running = false
	}
	return paths
}

// again is how soon a library that another process holds is tried again.
const again = 3 * time.Second

func (r *reading) work() {
	for paths := r.next(); len(paths) > 0; paths = r.next() {
		for {
			err := r.add(r.ctx, paths, r.report)
			var held *store.InUse
			if errors.As(err, &held) && r.wait(held) {
				continue
			}
			if err != nil {
				r.fail(err)
			}
			break
		}
	}
}

// wait waits for another process to let go of the library; false when this
// server ends before.
func (r *reading) wait(held *store.InUse) bool {
	r.set(func(p *progress) { p.Waiting = held.Error() })
	select {
	case <-r.ctx.Done():
		return false
	case <-time.After(again):
		r.set(func(p *progress) { p.Waiting = "" })
		return true
	}
}

func (r *reading) report(o Outcome) {
	var f received
	r.set(func(p *progress) {
		f = r.files[o.Path]
		if f.name == "" {
			f.name = filepath.Base(o.Path)
		}
		p.Done = append(p.Done, line{o, f.name})
	})
	r.done(f, o)
}

// fail ends a lot: what it has not reported is not in the library.
func (r *reading) fail(err error) { r.set(func(p *progress) { p.Failed = err.Error() }) }

func (r *reading) set(change func(*progress)) {
	r.mu.Lock()
	defer r.mu.Unlock()
	change(&r.job)
}
