package library

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"hatchlore/cmd/internal/reader"
	"hatchlore/evidence/store"
	"hatchlore/ingest/pdf/process/standin"
	"hatchlore/query"
)

// ingestEnv makes the test binary ingest the folder named after it into the
// library before it: the process that TestKilled kills.
const ingestEnv = "HATCHLORE_TEST_INGEST"

func TestMain(m *testing.M) {
	standin.ServeIfAsked()
	if dirs := os.Getenv(ingestEnv); dirs != "" {
		dir, papers, _ := strings.Cut(dirs, string(os.PathListSeparator))
		if err := ingestInto(context.Background(), dir, papers, func(o Outcome) { fmt.Println(o.State, o.Source) }); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

func ingestInto(ctx context.Context, dir, papers string, report func(Outcome)) error {
	r, err := reader.New(ctx, reader.Options{})
	if err != nil {
		return err
	}
	defer r.Close()
	l, err := Open(dir, true)
	if err != nil {
		return err
	}
	return errors.Join(l.AddAll(ctx, r, reader.Find([]string{papers}), report), l.Close())
}

// newReader returns a Reader that is closed when the test ends.
func newReader(tb testing.TB, o reader.Options) *reader.Reader {
	tb.Helper()
	r, err := reader.New(tb.Context(), o)
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() {
		if err := r.Close(); err != nil {
			tb.Error(err)
		}
	})
	return r
}

// writePapers writes n invented papers of a few pages each.
func writePapers(t *testing.T, n int) string {
	t.Helper()
	dir := t.TempDir()
	for i := range n {
		text := fmt.Sprintf("Hatching of Fictocaris umbrosa, part %d\n\nInvented for a test.\n", i)
		for page := range 3 {
			text += fmt.Sprintf("\fResting eggs of Fictocaris umbrosa hatched at %d °C after %d days of cold storage in wet moss.\n", 5+page, 20+i)
		}
		name := filepath.Join(dir, fmt.Sprintf("paper%02d.txt", i))
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func open(t *testing.T, dir string) *Library {
	t.Helper()
	l, err := Open(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := l.Close(); err != nil {
			t.Error(err)
		}
	})
	return l
}

func counts(t *testing.T, l *Library) store.Counts {
	t.Helper()
	c, err := l.Store().Counts(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Of two copies in one folder the first is added and the second told as what it
// is, the first time and each time after.
func TestAddAllCopies(t *testing.T) {
	papers, dir := writePapers(t, 1), t.TempDir()
	text, err := os.ReadFile(filepath.Join(papers, "paper00.txt"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(papers, "paper00 copy.txt"), text, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{Added, Known} {
		var got []Outcome
		if err := ingestInto(t.Context(), dir, papers, func(o Outcome) { got = append(got, o) }); err != nil {
			t.Fatal(err)
		}
		if len(got) != 2 || got[0].State != want || got[0].Why != "" {
			t.Fatalf("outcomes %+v, want the first %s", got, want)
		}
		first, second := got[0], got[1]
		if second.State != Known || second.Paper != first.Paper || second.Why != "a copy of "+first.Source {
			t.Errorf("the copy is told as %+v", second)
		}
	}
	if c := counts(t, open(t, dir)); c.Papers != 1 {
		t.Errorf("counts %+v", c)
	}
}

// Ingesting again must find every paper known and change nothing.
func TestAddAllAgain(t *testing.T) {
	papers, dir := writePapers(t, 5), t.TempDir()
	states := func() map[string]int {
		n := map[string]int{}
		if err := ingestInto(t.Context(), dir, papers, func(o Outcome) { n[o.State]++ }); err != nil {
			t.Fatal(err)
		}
		return n
	}
	if diff := cmp.Diff(map[string]int{Added: 5}, states()); diff != "" {
		t.Errorf("first (-want +got):\n%s", diff)
	}
	l := open(t, dir)
	before := counts(t, l)
	if before.Papers != 5 || before.Pages != 20 || before.Claims < 15 {
		t.Errorf("counts %+v", before)
	}
	if diff := cmp.Diff(map[string]int{Known: 5}, states()); diff != "" {
		t.Errorf("again (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(before, counts(t, l)); diff != "" {
		t.Errorf("counts changed:\n%s", diff)
	}
}

// A process killed at any moment of an ingest loses at most the papers in
// hand: the library opens, each paper is whole or absent, and the same ingest
// completes.
func TestKilled(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped with -short: starts and kills processes")
	}
	const papers = 24
	from, dir := writePapers(t, papers), t.TempDir()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	for after := 1; after < 12; after += 3 {
		child := exec.Command(self)
		child.Env = append(os.Environ(), ingestEnv+"="+dir+string(os.PathListSeparator)+from)
		out, err := child.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := child.Start(); err != nil {
			t.Fatal(err)
		}
		// Kill it when it has told of a few papers, at no special point.
		s := bufio.NewScanner(out)
		for told := 0; told < after && s.Scan(); told++ {
		}
		time.Sleep(time.Millisecond)
		_ = child.Process.Kill()
		_ = child.Wait()

		l, err := Open(dir, false)
		if err != nil {
			t.Fatal(err)
		}
		for p, err := range l.Store().Papers(t.Context()) {
			if err != nil {
				t.Fatal(err)
			}
			if p.Pages != 4 || p.How.Text != 4 {
				t.Errorf("%s is there by half: %+v", p.Paper, p)
			}
		}
		if err := l.Close(); err != nil {
			t.Fatal(err)
		}
	}
	if err := ingestInto(t.Context(), dir, from, func(Outcome) {}); err != nil {
		t.Fatal(err)
	}
	l := open(t, dir)
	if c := counts(t, l); c.Papers != papers || c.Pages != 4*papers {
		t.Errorf("after all %+v", c)
	}
	answers, err := l.Searching(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	hits, err := answers.Search(t.Context(), query.Search{Words: "moss", Limit: 1000})
	if err != nil || len(hits) != 3*papers {
		t.Errorf("the index finds %d pages, %v", len(hits), err)
	}
}

// What the index lacks is put in when it is next opened, without being asked.
func TestIndexOutOfStep(t *testing.T) {
	papers, dir := writePapers(t, 2), t.TempDir()
	if err := ingestInto(t.Context(), dir, papers, func(Outcome) {}); err != nil {
		t.Fatal(err)
	}
	l := open(t, dir)
	if _, err := l.openToWrite(t.Context(), false); err != nil {
		t.Fatal(err)
	}
	var keys []string
	for p, err := range l.Store().Papers(t.Context()) {
		if err != nil {
			t.Fatal(err)
		}
		keys = append(keys, p.Paper)
	}
	if err := l.index.Remove(t.Context(), keys[0]); err != nil {
		t.Fatal(err)
	}
	if err := l.closeIndex(); err != nil {
		t.Fatal(err)
	}
	answers, err := l.Searching(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	hits, err := answers.Search(t.Context(), query.Search{Words: "moss", Paper: keys[0]})
	if err != nil || len(hits) != 3 {
		t.Errorf("found %d pages, %v", len(hits), err)
	}
}
