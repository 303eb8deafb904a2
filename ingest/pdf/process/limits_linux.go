package process

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"strconv"
	"syscall"
)

// rlimitData is RLIMIT_DATA, which package syscall does not name.
const rlimitData = 2

// tieToParent has the kernel end the child with its parent, even a parent that
// was killed.
func tieToParent(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL}
}

// F_SETPIPE_SZ of fcntl, which package syscall does not name, and a size that
// holds a page or more and that any process may ask for (fcntl(2)).
const (
	setPipeSize = 1031
	pipeSize    = 1 << 20
)

// widen makes a pipe hold a page, so that neither side waits for the other in
// the middle of one.
func widen(pipe io.Reader) {
	f, ok := pipe.(syscall.Conn)
	if !ok {
		return
	}
	conn, err := f.SyscallConn()
	if err != nil {
		return
	}
	// Where it is refused the pipe stays as it is.
	_ = conn.Control(func(fd uintptr) { _, _, _ = syscall.Syscall(syscall.SYS_FCNTL, fd, setPipeSize, pipeSize) })
}

// limitProcess bounds the memory this process may ask for, against a single
// allocation too large and too quick for any watch.
func limitProcess(bytes uint64) {
	// Where the limit cannot be set the watches remain.
	_ = syscall.Setrlimit(rlimitData, &syscall.Rlimit{Cur: bytes, Max: bytes})
}

// resident returns the memory that a process holds, 0 when that is unknown.
func resident(pid int) int64 {
	b, err := os.ReadFile("/proc/" + strconv.Itoa(pid) + "/statm")
	if err != nil {
		return 0
	}
	fields := bytes.Fields(b)
	if len(fields) < 2 {
		return 0
	}
	pages, err := strconv.ParseInt(string(fields[1]), 10, 64)
	if err != nil {
		return 0
	}
	return pages * int64(os.Getpagesize())
}
