package process

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"hatchlore/ingest/pdf/pdftest"
)

// envOrphan makes the test binary a parent that is to be killed; its value is
// the file that it reads first.
const envOrphan = "HATCHLORE_TEST_ORPHAN"

// orphan starts a reader, says so, and waits to be killed.
func orphan() {
	r, err := Start(context.Background(), Options{Processes: 1})
	if err == nil {
		_, err = r.Read(context.Background(), os.Getenv(envOrphan))
	}
	fmt.Println("ready", err)
	select {}
}

// children returns the processes whose parent is pid.
func children(t *testing.T, pid int) []int {
	t.Helper()
	stats, err := filepath.Glob("/proc/[0-9]*/stat")
	if err != nil {
		t.Fatal(err)
	}
	var out []int
	for _, s := range stats {
		data, err := os.ReadFile(s)
		if err != nil {
			continue
		}
		// pid (name) state parent ...; the name may hold spaces.
		fields := strings.Fields(string(data[strings.LastIndexByte(string(data), ')')+1:]))
		if len(fields) > 1 && fields[1] == strconv.Itoa(pid) {
			child, _ := strconv.Atoi(filepath.Base(filepath.Dir(s)))
			out = append(out, child)
		}
	}
	return out
}

func TestReaderEndsWithItsParent(t *testing.T) {
	path := pdftest.Save(t, "whole.pdf", pdftest.Write(pdftest.Pages("", pdftest.Line(50, 500, "x")), ""))
	parent := exec.Command(os.Args[0])
	parent.Env = append(os.Environ(), envOrphan+"="+path)
	out, err := parent.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := parent.Start(); err != nil {
		t.Fatal(err)
	}
	said, err := bufio.NewReader(out).ReadString('\n')
	if err != nil || said != "ready <nil>\n" {
		t.Errorf("parent said %q, %v", said, err)
	}
	readers := children(t, parent.Process.Pid)
	if len(readers) != 1 {
		t.Errorf("%d reader processes, want 1", len(readers))
	}
	if err := parent.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = parent.Wait() // killed, as it should be
	for _, pid := range readers {
		deadline := time.Now().Add(5 * time.Second)
		for syscall.Kill(pid, 0) == nil {
			if time.Now().After(deadline) {
				t.Fatalf("reader process %d outlived its parent", pid)
			}
			time.Sleep(10 * time.Millisecond)
		}
	}
}

func TestNoProcessLeft(t *testing.T) {
	before := len(children(t, os.Getpid()))
	r := reader(t, Options{Time: time.Millisecond, TimePerPage: time.Nanosecond})
	path := pdftest.Save(t, "bomb.pdf", pdftest.Bomb(t, 64<<20))
	for range 3 {
		if _, err := r.Read(t.Context(), path); err == nil {
			t.Error("the bomb was read in no time")
		}
	}
	r.Close()
	if after := len(children(t, os.Getpid())); after != before {
		t.Errorf("%d processes before, %d after", before, after)
	}
}
