package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"hatchlore/cmd/internal/library"
	"hatchlore/corpus-sample/made"
	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/outcome"
	"hatchlore/query"
)

// killsEnv says how often TestKillNine kills: 200 to be sure.
const killsEnv = "HATCHLORE_TEST_KILLS"

// TestKillNine kills the command, without warning, at random moments of an
// ingest, a decision, the recording of counts and the rebuilding of the index.
// After each the library opens and is sound, nothing that a command said it had
// done is lost, and every paper is there whole or not at all; at last the
// ingest completes and the index is in step.
func TestKillNine(t *testing.T) {
	kills, err := strconv.Atoi(os.Getenv(killsEnv))
	if err != nil {
		if kills = 12; testing.Short() {
			kills = 4
		}
		t.Logf("%d kills; %s=200 for as many as a release takes", kills, killsEnv)
	}
	v := newVictim(t)
	inTime := map[string]int{} // killed before they were done
	for n := range kills {
		kind := []string{"ingest", "decide", "record", "rebuild"}[n%4]
		if v.once(kind, n) {
			inTime[kind]++
		}
		v.check(fmt.Sprintf("kill %d, of %s", n, kind))
	}
	v.finish()
	t.Logf("of %d, killed before they were done: %v; %d papers, %d decisions and %d counts were said to be kept, and are",
		kills, inTime, len(v.papers), len(v.decisions), len(v.looks))
	for kind, n := range inTime {
		if kills >= 100 && n == 0 {
			t.Errorf("%s was never killed in time: the test shows nothing", kind)
		}
	}
}

// victim is a library whose commands are killed, with all that they said was
// done.
type victim struct {
	*testing.T
	dir, self string
	rnd       *rand.Rand
	corpus    *made.Corpus
	written   int                      // files of papers
	takes     map[string]time.Duration // how long each kind of command takes

	plan      trial.Plan
	papers    map[string]bool   // by file
	decisions map[string]string // reasons by claim
	looks     map[string]string // notes by dish and day
}

func newVictim(t *testing.T) *victim {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	v := &victim{T: t, dir: t.TempDir(), self: self, rnd: rand.New(rand.NewPCG(9, 9)), corpus: made.New(9), takes: map[string]time.Duration{},
		papers: map[string]bool{}, decisions: map[string]string{}, looks: map[string]string{}}
	if err := os.Mkdir(v.in("papers"), 0o777); err != nil {
		t.Fatal(err)
	}
	v.ingest(0)
	out, done := v.run(time.Hour, "trial", "plan", "Nova", "alba", "--eggs", "240", "--factor", "drying=0,14", "--start", "2026-01-10", "--format", "json")
	if err := json.Unmarshal(out, &v.plan); err != nil || !done || len(v.plan.Dishes) == 0 {
		t.Fatalf("no plan: %v\n%s", err, out)
	}
	for _, kind := range []string{"decide", "record", "rebuild"} {
		v.takes[kind] = 0 // the first run of each is let be
	}
	return v
}

func (v *victim) in(name string) string { return filepath.Join(v.dir, name) }

// run starts the command and kills it after the given time. done tells that it
// had ended well before.
func (v *victim) run(after time.Duration, args ...string) (out []byte, done bool) {
	v.Helper()
	cmd := exec.Command(v.self, append(args, "--library", v.in("library"))...)
	cmd.Args[0] = "hatchlore" // for which the test binary stands in
	cmd.Env = append(os.Environ(), "HOME="+v.dir, "XDG_DATA_HOME="+v.dir)
	var stdout, stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	if err := cmd.Start(); err != nil {
		v.Fatal(err)
	}
	timer := time.AfterFunc(after, func() { _ = cmd.Process.Kill() })
	err := cmd.Wait()
	timer.Stop()
	var exit *exec.ExitError
	switch {
	case err == nil:
		return stdout.Bytes(), true
	case errors.As(err, &exit) && !exit.Exited():
		return stdout.Bytes(), false // killed
	}
	v.Fatalf("%v: %v %s", args, err, stderr.String())
	return nil, false
}

// once runs a command of the kind and kills it at some moment between its
// start and a little after its usual end. It reports whether it was killed in
// time.
func (v *victim) once(kind string, n int) bool {
	v.Helper()
	after := time.Hour // until it is known how long it takes
	if usual := v.takes[kind]; usual > 0 {
		after = time.Duration(v.rnd.Float64() * 1.1 * float64(usual))
	}
	began := time.Now()
	var done bool
	switch kind {
	case "ingest":
		done = v.ingest(after)
	case "decide":
		done = v.decide(after, n)
	case "record":
		done = v.record(after, n)
	case "rebuild":
		_, done = v.run(after, "check", "--rebuild")
	}
	if done {
		v.takes[kind] = time.Since(began)
	} else {
		v.takes[kind] += v.takes[kind] / 8 // on a machine that has grown busy all takes longer
	}
	return !done
}

// ingest adds three papers to the folder and ingests it. With 0 it is let be.
func (v *victim) ingest(after time.Duration) bool {
	v.Helper()
	for range 3 {
		p := v.corpus.Paper(v.written)
		v.written++
		if err := os.WriteFile(v.in(fmt.Sprintf("papers/made%03d.txt", v.written)), []byte(p.Text()), 0o666); err != nil {
			v.Fatal(err)
		}
	}
	began := time.Now()
	if after == 0 {
		after = time.Hour
	}
	out, done := v.run(after, "ingest", v.in("papers"), "--format", "jsonl")
	if done {
		v.takes["ingest"] = time.Since(began)
	}
	lines := bufio.NewScanner(bytes.NewReader(out))
	for lines.Scan() {
		var o library.Outcome
		if json.Unmarshal(lines.Bytes(), &o) != nil {
			continue // the line on which it was killed
		}
		if o.State != library.Added && o.State != library.Known {
			v.Errorf("%+v", o)
		}
		v.papers[o.Source] = true
	}
	return done
}

// decide accepts a claim that nothing was decided about.
func (v *victim) decide(after time.Duration, n int) bool {
	v.Helper()
	id := ""
	v.library(func(ctx context.Context, l *library.Library) {
		claims, err := l.Store().Claims(ctx, store.Filter{})
		if err != nil {
			v.Fatal(err)
		}
		for _, c := range claims {
			if _, known := v.decisions[c.ID]; !known && c.Decision == "" {
				id = c.ID
				return
			}
		}
		v.Fatal("no claim is left to decide about")
	})
	reason := fmt.Sprintf("seen %d", n)
	_, done := v.run(after, "claim", "accept", id, "--reason", reason)
	if done {
		v.decisions[id] = reason
	}
	return done
}

// record takes a sheet with one look.
func (v *victim) record(after time.Duration, n int) bool {
	v.Helper()
	d := v.plan.Dishes[n/4%len(v.plan.Dishes)]
	day := time.Date(2026, 2, 1+n/4/len(v.plan.Dishes), 0, 0, 0, 0, time.UTC).Format(time.DateOnly)
	note := fmt.Sprintf("look %d", n)
	sheet := fmt.Sprintf("dish,date,eggs,emerged,hatched,dead,note\n%s,%s,%d,0,0,0,%s\n", d.Label, day, d.Eggs, note)
	if err := os.WriteFile(v.in("counts.csv"), []byte(sheet), 0o666); err != nil {
		v.Fatal(err)
	}
	_, done := v.run(after, "trial", "record", v.plan.Trial, v.in("counts.csv"))
	if done {
		v.looks[d.Label+" "+day] = note
	}
	return done
}

// library opens the library in this process for as long as f runs.
func (v *victim) library(f func(context.Context, *library.Library)) {
	v.Helper()
	l, err := library.Open(v.in("library"), false)
	if err != nil {
		v.Fatal(err)
	}
	f(v.Context(), l)
	if err := l.Close(); err != nil {
		v.Fatal(err)
	}
}

// check fails unless the library is sound and holds all that was said to be
// done.
func (v *victim) check(when string) {
	v.Helper()
	v.library(func(ctx context.Context, l *library.Library) {
		s := l.Store()
		if faults, err := s.Faults(ctx); len(faults) > 0 || err != nil {
			v.Fatalf("%s: faults %v %v", when, faults, err)
		}
		there := map[string]bool{}
		for p, err := range s.Papers(ctx) {
			if err != nil {
				v.Fatalf("%s: %v", when, err)
			}
			if there[p.Source] = true; p.Pages != made.PagesAPaper && p.Source != outcome.OwnTrial {
				v.Fatalf("%s: %s has %d pages", when, p.Source, p.Pages)
			}
		}
		for source := range v.papers {
			if !there[source] {
				v.Fatalf("%s: %s was added and is not there", when, source)
			}
		}
		v.checkDecisions(ctx, when, s)
		v.checkCounts(ctx, when, s)
		answers, err := l.Searching(ctx)
		if err != nil {
			v.Fatalf("%s: %v", when, err)
		}
		hits, err := answers.Search(ctx, query.Search{Words: `"cold period of"`, Limit: 10 * v.written})
		if err != nil || len(hits) < len(v.papers) || l.Behind() != 0 {
			v.Fatalf("%s: %d pages found in %d papers, %d papers behind, %v", when, len(hits), len(v.papers), l.Behind(), err)
		}
	})
}

func (v *victim) checkDecisions(ctx context.Context, when string, s *store.Store) {
	v.Helper()
	for id, reason := range v.decisions {
		h, err := s.History(ctx, id)
		if err != nil || len(h) == 0 || h[len(h)-1].Reason != reason {
			v.Fatalf("%s: the decision on %s is lost: %+v %v", when, id, h, err)
		}
	}
}

func (v *victim) checkCounts(ctx context.Context, when string, s *store.Store) {
	v.Helper()
	kept, err := s.Trial(ctx, v.plan.Trial)
	if err != nil {
		v.Fatalf("%s: %v", when, err)
	}
	notes := map[string]string{}
	if kept.Counts != nil {
		for _, l := range kept.Counts.Looks {
			notes[fmt.Sprintf("%s %s", l.Dish, l.Date)] = l.Note
		}
	}
	for place, note := range v.looks {
		if notes[place] != note {
			v.Fatalf("%s: the count of dish %s (%s) is lost: %v", when, place, note, notes)
		}
	}
}

// finish lets an ingest end and looks whether all is there.
func (v *victim) finish() {
	v.Helper()
	if !v.ingest(time.Hour) {
		v.Fatal("the ingest did not complete")
	}
	if len(v.papers) != v.written {
		v.Fatalf("%d of %d papers are in", len(v.papers), v.written)
	}
	v.check("at last")
}
