package process

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"sync"
	"time"

	"hatchlore/ingest/pdf"
)

// child is one reader process as its parent sees it.
type child struct {
	cmd    *exec.Cmd
	in     io.WriteCloser
	w      *bufio.Writer
	frames chan frame  // closed when the process ends
	spare  chan []byte // memory of frames that were worked in
	stderr *tail
	memory int64
	ended  chan struct{}   // closed when it has been waited for
	closed <-chan struct{} // closed with the Reader
}

// startLimit bounds the start of the engine. Compiling it takes seconds, on a
// slow and busy machine perhaps a minute.
const startLimit = 3 * time.Minute

// memoryPoll is how often a busy process's memory is looked at.
const memoryPoll = 50 * time.Millisecond

// newChild starts a reader process. It must be called on a thread that lives
// as long as the process may, because Linux ties the child to that thread.
func newChild(memory int64) (*child, error) {
	exe, err := os.Executable()
	if err != nil {
		return nil, fmt.Errorf("finding the program's own file: %w", err)
	}
	p := &child{stderr: &tail{}, memory: memory, frames: make(chan frame, 4), spare: make(chan []byte, 4), ended: make(chan struct{})}
	p.cmd = exec.Command(exe)
	p.cmd.Env = append(os.Environ(), envReader+"=1", envMemory+"="+strconv.FormatInt(memory, 10))
	p.cmd.Stderr = p.stderr
	p.cmd.WaitDelay = time.Second
	tieToParent(p.cmd)
	if p.in, err = p.cmd.StdinPipe(); err != nil {
		return nil, err
	}
	out, err := p.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := p.cmd.Start(); err != nil {
		return nil, fmt.Errorf("starting a reader process: %w", err)
	}
	widen(out)
	p.w = bufio.NewWriter(p.in)
	go p.collect(out)
	return p, nil
}

// collect passes frames on until the process ends, and then buries it.
func (p *child) collect(out io.Reader) {
	r := bufio.NewReaderSize(out, 1<<18)
	for {
		var room []byte
		select {
		case room = <-p.spare:
		default:
		}
		f, err := readFrame(r, room)
		if err != nil {
			break
		}
		p.frames <- f
	}
	// A malformed frame leaves the process alive; whatever the cause, it is of
	// no use now, and its exit status says no more than its stderr.
	_ = p.cmd.Process.Kill()
	_ = p.cmd.Wait()
	close(p.frames)
	close(p.ended)
}

// kill ends the process and waits until it is gone.
func (p *child) kill() {
	_ = p.cmd.Process.Kill() // it may have ended already
	p.drain()
}

// close lets an idle process end by itself.
func (p *child) close() {
	p.in.Close()
	p.drain()
}

func (p *child) drain() {
	deadline := time.AfterFunc(2*time.Second, func() { _ = p.cmd.Process.Kill() })
	defer deadline.Stop()
	for range p.frames {
	}
	<-p.ended
	p.in.Close()
}

// errGone is a process that ended without saying why.
var errGone = errors.New("the reader process ended")

// await waits for the engine to come up.
func (p *child) await(ctx context.Context) error {
	timer := time.NewTimer(startLimit)
	defer timer.Stop()
	select {
	case f, ok := <-p.frames:
		if ok && f.kind == frameReady {
			return nil
		}
		return fmt.Errorf("a reader process did not start: %s", p.stderr.lastLine())
	case <-timer.C:
		return errors.New("a reader process did not start in time")
	case <-ctx.Done():
		return ctx.Err()
	}
}

// ask sends a request and hands every frame of the answer to take, which must
// not keep it, until take says that the job is done. It gives up when the process ends, is silent
// beyond the time that left returns, or holds too much memory.
func (p *child) ask(ctx context.Context, q request, left func() time.Duration, take func(frame) (done bool, err error)) error {
	if err := writeFrame(p.w, frameAsk, q.pack()); err != nil {
		return errGone
	}
	timer := time.NewTimer(left())
	defer timer.Stop()
	poll := time.NewTicker(memoryPoll)
	defer poll.Stop()
	for {
		select {
		case f, ok := <-p.frames:
			if !ok {
				return p.post()
			}
			done, err := take(f)
			if done || err != nil {
				return err
			}
			select {
			case p.spare <- f.body:
			default:
			}
			timer.Reset(left())
		case <-poll.C:
			if resident(p.cmd.Process.Pid) > p.memory {
				return pdf.ErrMemory
			}
		case <-timer.C:
			return pdf.ErrSlow
		case <-p.closed:
			return ErrClosed
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// alive reports whether the process is still there.
func (p *child) alive() bool {
	select {
	case <-p.ended:
		return false
	default:
		return true
	}
}

// post tells from a dead process's last words what it died of.
func (p *child) post() error {
	if p.cmd.ProcessState != nil && p.cmd.ProcessState.ExitCode() == exitMemory || p.stderr.contains("out of memory") {
		return pdf.ErrMemory
	}
	return errGone
}

// bloated reports whether the process kept so much memory from its last file
// that a fresh one should take its place.
func (p *child) bloated() bool { return resident(p.cmd.Process.Pid) > p.memory/2 }

// tail keeps the first and last of what a process says on stderr: a crash
// names its cause first.
type tail struct {
	mu          sync.Mutex
	first, last []byte
}

const tailSize = 4096

func (t *tail) Write(b []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if room := tailSize - len(t.first); room > 0 {
		t.first = append(t.first, b[:min(room, len(b))]...)
	}
	t.last = append(t.last, b...)
	if over := len(t.last) - tailSize; over > 0 {
		t.last = append(t.last[:0], t.last[over:]...)
	}
	return len(b), nil
}

func (t *tail) contains(s string) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return strings.Contains(string(t.first), s) || strings.Contains(string(t.last), s)
}

func (t *tail) lastLine() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	lines := strings.Split(strings.TrimSpace(string(t.last)), "\n")
	if last := lines[len(lines)-1]; last != "" {
		return last
	}
	return "it said nothing"
}
