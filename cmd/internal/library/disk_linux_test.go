package library

import (
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"hatchlore/corpus-sample/surroundings"
)

// An ingest that fills the disk stops with a sentence that says so, keeps every
// paper that it told of, and completes when there is room again.
func TestIngestOnAFullDisk(t *testing.T) {
	disk := surroundings.SmallDisk(t, "3m")
	const papers = 300
	from, dir := writePapers(t, papers), filepath.Join(disk, "library")
	told := map[string]bool{}
	err := ingestInto(t.Context(), dir, from, func(o Outcome) {
		if o.State != Added {
			t.Errorf("%+v", o)
		}
		told[o.Source] = true
	})
	if err == nil {
		t.Fatalf("%d papers found room: the test shows nothing", papers)
	}
	if !strings.Contains(err.Error(), "the disk is full") {
		t.Errorf("the sentence is %v", err)
	}
	if err := syscall.Mount("", disk, "", syscall.MS_REMOUNT, "size=64m"); err != nil {
		t.Fatal(err)
	}
	l := open(t, dir)
	there := map[string]bool{}
	for p, err := range l.Store().Papers(t.Context()) {
		if err != nil {
			t.Fatal(err)
		}
		there[p.Source] = true
	}
	for source := range told {
		if !there[source] {
			t.Errorf("%s was said to be added and is not there", source)
		}
	}
	if err := ingestInto(t.Context(), dir, from, func(Outcome) {}); err != nil {
		t.Fatal(err)
	}
	if n := find(t, l, "moss"); counts(t, l).Papers != papers || n != 3*papers {
		t.Errorf("%d papers, %d pages found", counts(t, l).Papers, n)
	}
}
