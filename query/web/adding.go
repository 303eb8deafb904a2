package web

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

// adding reads the papers that were sent, one lot after the other. What came
// of them is kept until the next lot.
type adding struct {
	add  func(ctx context.Context, paths []string, report func(Outcome)) error
	done func(Outcome) // told of each paper

	mu      sync.Mutex
	queue   []received
	names   map[string]string // by path, as the file was called
	job     jobState
	workers sync.WaitGroup
	ctx     context.Context
}

// jobState is how far the reading of papers is.
type jobState struct {
	Running bool
	Total   int
	Done    []jobLine
	Waiting string // for whom, when another process has the library
	Failed  string
}

type jobLine struct {
	Outcome
	Name string
}

// Percent is how much of the work is done.
func (j jobState) Percent() int { return 100 * len(j.Done) / max(j.Total, 1) }

// state returns a copy of how far the work is.
func (a *adding) state() jobState {
	a.mu.Lock()
	defer a.mu.Unlock()
	out := a.job
	out.Done = slices.Clone(a.job.Done)
	return out
}

// take starts reading files, or puts them behind those that are being read.
func (a *adding) take(files []received) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if !a.job.Running {
		a.job, a.names = jobState{}, map[string]string{}
	}
	a.job.Total += len(files)
	for _, f := range files {
		if f.path == "" {
			a.job.Done = append(a.job.Done, jobLine{Outcome{State: "left", Why: f.why}, f.name})
			continue
		}
		if _, twice := a.names[f.path]; twice {
			a.job.Total--
			continue
		}
		a.names[f.path] = f.name
		a.queue = append(a.queue, f)
	}
	if !a.job.Running && len(a.queue) > 0 {
		a.job.Running = true
		a.workers.Go(a.work)
	}
}

// next takes the whole queue; none ends the work.
func (a *adding) next() []string {
	a.mu.Lock()
	defer a.mu.Unlock()
	var paths []string
	for _, f := range a.queue {
		paths = append(paths, f.path)
	}
	a.queue = nil
	if len(paths) == 0 {
		a.job.Running = false
	}
	return paths
}

// again is how soon a library that another process holds is tried again.
const again = 3 * time.Second

func (a *adding) work() {
	for paths := a.next(); len(paths) > 0; paths = a.next() {
		for {
			err := a.add(a.ctx, paths, a.report)
			var held *store.InUse
			if errors.As(err, &held) && a.wait(held) {
				continue
			}
			if err != nil {
				a.fail(err)
			}
			break
		}
	}
}

// wait waits for another process to let go of the library; false when this
// server ends before.
func (a *adding) wait(held *store.InUse) bool {
	a.set(func(j *jobState) { j.Waiting = held.Error() })
	select {
	case <-a.ctx.Done():
		return false
	case <-time.After(again):
		a.set(func(j *jobState) { j.Waiting = "" })
		return true
	}
}

func (a *adding) report(o Outcome) {
	a.set(func(j *jobState) {
		name := a.names[o.Path]
		if name == "" {
			name = filepath.Base(o.Path)
		}
		j.Done = append(j.Done, jobLine{o, name})
	})
	a.done(o)
}

// fail ends a lot: what it has not reported is not in the library.
func (a *adding) fail(err error) { a.set(func(j *jobState) { j.Failed = err.Error() }) }

func (a *adding) set(change func(*jobState)) {
	a.mu.Lock()
	defer a.mu.Unlock()
	change(&a.job)
}
