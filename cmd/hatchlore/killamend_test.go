package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"hatchlore/cmd/internal/library"
	"hatchlore/evidence"
	"hatchlore/evidence/store"
)

// A kill at any moment of 'claim amend' leaves the claim as it was or as it was
// to become, and the history says which.
func TestKilledAmend(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the command is run by a link to the test's program, which takes rights on Windows")
	}
	kills := 40
	if testing.Short() {
		kills = 5
	}
	dir := t.TempDir()
	command := filepath.Join(dir, "hatchlore")
	if err := os.Symlink(os.Args[0], command); err != nil {
		t.Fatal(err)
	}
	paper := filepath.Join(dir, "fen.txt")
	if err := os.WriteFile(paper, []byte("Hatching of Fictocaris umbrosa\n\nInvented for a test. Eggs of Fictocaris umbrosa hatched at 8 °C.\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	shelf := filepath.Join(dir, "library")
	run := func(args ...string) *exec.Cmd {
		return exec.Command(command, append([]string{"--library", shelf}, args...)...)
	}
	if out, err := run("ingest", paper).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	id := theClaim(t, shelf).ID

	// How long it takes undisturbed says when to kill.
	began := time.Now()
	if out, err := run("claim", "amend", id, "--value", "9 °C").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	took := time.Since(began)
	rnd := rand.New(rand.NewPCG(3, 3))
	before, done := 9, 0
	for kill := range kills {
		value := 10 + kill
		cmd := run("claim", "amend", id, "--value", fmt.Sprintf("%d °C", value), "--reason", strings.Repeat("a long reason ", 2000))
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		timer := time.AfterFunc(time.Duration(rnd.Int64N(int64(3*took/2))), func() { cmd.Process.Kill() })
		cmd.Wait()
		timer.Stop()
		c := theClaim(t, shelf)
		switch got := *c.Low; {
		case c.ID != id || c.Decision != evidence.Amended || *c.High != got:
			t.Fatalf("kill %d: half a claim: %+v", kill, c)
		case got == float64(value):
			before, done = value, done+1
		case got != float64(before):
			t.Fatalf("kill %d: %g °C, neither %d nor %d", kill, got, before, value)
		}
	}
	t.Logf("of %d amendments, killed within %v, %d were done and %d not", kills, 3*took/2, done, kills-done)
}

// theClaim is the one claim of a library that is sound, as its history has it.
func theClaim(t *testing.T, shelf string) evidence.Claim {
	t.Helper()
	lib, err := library.Open(shelf, false)
	if err != nil {
		t.Fatal(err)
	}
	defer lib.Close()
	if faults, err := lib.Store().Faults(t.Context()); len(faults) > 0 || err != nil {
		t.Fatalf("faults %v %v", faults, err)
	}
	all, err := lib.Store().Claims(t.Context(), store.Filter{})
	if err != nil || len(all) != 1 {
		t.Fatalf("%d claims: %v", len(all), err)
	}
	history, err := lib.Store().History(t.Context(), all[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(history); n > 0 && (history[n-1].Amended == nil || *history[n-1].Amended.Low != *all[0].Low) {
		t.Fatalf("the claim says %g, its last decision %+v", *all[0].Low, history[n-1])
	}
	return all[0]
}
