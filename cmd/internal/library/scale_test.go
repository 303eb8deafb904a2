//go:build unix

package library

import (
	"database/sql"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"hatchlore/cmd/internal/reader"
	"hatchlore/corpus-sample/made"
	"hatchlore/evidence/store"
	"hatchlore/query"
	"hatchlore/query/index"
)

// benchPages names the size of the benchmark's library.
const benchPages = "HATCHLORE_BENCH_PAGES"

// benchAlone leaves out the comparison with FTS5.
const benchAlone = "HATCHLORE_BENCH_ALONE"

// BenchmarkScale takes made papers, as text files, the whole path into a
// library, asks it what keepers ask, and does the same with SQLite's own full
// text and with grep, for HATCHLORE_BENCH_PAGES pages.
func BenchmarkScale(b *testing.B) {
	pages, err := strconv.Atoi(os.Getenv(benchPages))
	if err != nil {
		pages = 1000
	}
	for range b.N {
		benchScale(b, pages)
	}
}

func benchScale(b *testing.B, pages int) {
	corpus := made.New(11)
	dir := b.TempDir()
	files, lib := filepath.Join(dir, "papers"), filepath.Join(dir, "library")
	b.ReportMetric(float64(writeCorpus(b, corpus, files, pages))/1e6, "text-MB")
	benchIngest(b, lib, files, pages)
	b.ReportMetric(float64(sizeOf(filepath.Join(lib, store.FileName)))/1e6, "store-MB")
	b.ReportMetric(float64(sizeOf(filepath.Join(lib, index.DirName)))/1e6, "index-MB")

	began := time.Now()
	l, err := Open(lib, false)
	if err != nil {
		b.Fatal(err)
	}
	defer l.Close()
	putSynonyms(b, l)
	answers, err := l.Searching(b.Context())
	if err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(time.Since(began).Microseconds())/1000, "open-ms")
	questions := keeperQuestions(corpus, 606)
	for i, kind := range kinds {
		reportTimes(b, kind+"-", timesOf(b, len(questions)/len(kinds), func(n int) error {
			_, err := answers.Search(b.Context(), questions[n*len(kinds)+i])
			return err
		}))
	}
	reportTimes(b, "query-", timesOf(b, len(questions), func(n int) error {
		_, err := answers.Search(b.Context(), questions[n])
		return err
	}))
	benchTaxa(b, answers)
	if os.Getenv(benchAlone) == "" {
		benchFTS(b, corpus, filepath.Join(dir, "fts.db"), pages, questions)
	}
	benchGrep(b, files, questions)
}

// benchIngest reports the rate of an ingest, how it slows down, its longest
// halt and its memory. The reader processes are started before.
func benchIngest(b *testing.B, lib, files string, pages int) {
	clock := &reader.Clock{}
	r, err := reader.New(b.Context(), reader.Options{Clock: clock})
	if err != nil {
		b.Fatal(err)
	}
	defer r.Close()
	l, err := Open(lib, true)
	if err != nil {
		b.Fatal(err)
	}
	found := reader.Find([]string{files})
	peak := watchMemory()
	began, cpu := time.Now(), processorTime(b)
	last, halt, done := began, time.Duration(0), 0
	var half time.Time // when half was in
	err = l.AddAll(b.Context(), r, found, func(o Outcome) {
		now := time.Now()
		halt, last = max(halt, now.Sub(last)), now
		if done += o.Pages; done <= pages/2 {
			half = now
		}
	})
	if err != nil {
		b.Fatal(err)
	}
	if err := l.Close(); err != nil {
		b.Fatal(err)
	}
	spent := time.Since(began)
	b.ReportMetric(float64(done)/spent.Seconds(), "pages/s")
	b.ReportMetric((processorTime(b)-cpu).Seconds()*1000/float64(done), "processor-ms/page")
	b.ReportMetric(float64(done)/2/(began.Add(spent).Sub(half)).Seconds(), "pages/s-2nd-half")
	b.ReportMetric(halt.Seconds()*1000, "longest-halt-ms")
	anon, resident := peak()
	b.ReportMetric(float64(anon)/1e6, "own-memory-MB")
	b.ReportMetric(float64(resident)/1e6, "resident-MB")
	for _, s := range reader.Steps() {
		if t := clock.Spent(s); t > 0 {
			b.ReportMetric(t.Seconds(), string(s)+"-s")
		}
	}
}

// processorTime returns what this process has had of the processors: unlike
// the time on the wall it hardly depends on what else the machine does.
func processorTime(b *testing.B) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// watchMemory samples this process's memory until the function it returns is
// called, which returns the peaks in bytes: memory of its own, and all that is
// resident, files mapped into it included. Zero where the system does not tell.
func watchMemory() func() (anon, resident int) {
	stop, peaks := make(chan struct{}), make(chan [2]int)
	go func() {
		var most [2]int
		for {
			text, _ := os.ReadFile("/proc/self/status")
			for line := range strings.Lines(string(text)) {
				for i, field := range []string{"RssAnon:", "VmRSS:"} {
					if rest, ok := strings.CutPrefix(line, field); ok {
						kB, _ := strconv.Atoi(strings.Fields(rest)[0])
						most[i] = max(most[i], kB<<10)
					}
				}
			}
			select {
			case <-stop:
				peaks <- most
				return
			case <-time.After(100 * time.Millisecond):
			}
		}
	}()
	return func() (int, int) {
		close(stop)
		most := <-peaks
		return most[0], most[1]
	}
}

func sizeOf(path string) (sum int64) {
	_ = filepath.WalkDir(path, func(_ string, d fs.DirEntry, err error) error {
		if err == nil && d.IsDir() && d.Name() == "copies" {
			return filepath.SkipDir // links to what was counted
		}
		if err == nil && !d.IsDir() {
			if info, err := d.Info(); err == nil {
				sum += info.Size()
			}
		}
		return nil
	})
	return sum
}

// kinds are the kinds of question in the order in which they take turns.
var kinds = []string{"words", "phrase", "genus", "species", "either", "section"}

func keeperQuestions(c *made.Corpus, n int) []query.Search {
	rnd := rand.New(rand.NewPCG(5, 5))
	rare := func() string { return c.Words()[200+rnd.IntN(5000)] }
	var out []query.Search
	for i := range n {
		genus := made.Genera()[rnd.IntN(len(made.Genera()))]
		var s query.Search
		switch kinds[i%len(kinds)] {
		case "words":
			s.Words = rare() + " hatching temperature"
		case "phrase":
			s.Words = `"cold period" ` + rare()
		case "genus":
			s.Words = genus + " cold"
		case "species":
			s.Words = made.Animal(rnd.IntN(200)) + " hatched"
			s.Factor = "incubation-temperature"
		case "either":
			s.Words = "drying|dried|frozen eggs -" + rare()
			s.From, s.To = 1950, 1990
		case "section":
			s.Words = genus + " eggs"
			s.Section = "results"
		}
		out = append(out, s)
	}
	return out
}

// timesOf calls f with 0 to n-1 and returns how long each took. The first few fill the system's cache of files and do not count.
func timesOf(b *testing.B, n int, f func(int) error) measured {
	var times []time.Duration
	cpu := processorTime(b)
	for i := range n {
		began := time.Now()
		if err := f(i); err != nil {
			b.Fatal(err)
		}
		if i >= n/20 {
			times = append(times, time.Since(began))
		}
	}
	slices.Sort(times)
	return measured{times, (processorTime(b) - cpu) / time.Duration(n)}
}

// measured is how long something took each time, in order of length, and what
// it took of the processors on average.
type measured struct {
	times     []time.Duration
	processor time.Duration
}

func reportTimes(b *testing.B, name string, m measured) {
	for unit, d := range map[string]time.Duration{
		"median-ms": m.times[len(m.times)/2], "99th-ms": m.times[len(m.times)*99/100], "processor-ms": m.processor,
	} {
		b.ReportMetric(float64(d.Microseconds())/1000, name+unit)
	}
}

// benchTaxa reports the time of the evidence and the conflicts of a species
// and a genus.
func benchTaxa(b *testing.B, answers *query.Engine) {
	const times = 10
	genera := made.Genera()
	for name, ask := range map[string]func(n int) error{
		"evidence-species-": func(n int) error {
			_, err := answers.Evidence(b.Context(), made.Animal(n), false, nil)
			return err
		},
		"evidence-genus-": func(n int) error { _, err := answers.Evidence(b.Context(), genera[n], false, nil); return err },
		"conflicts-species-": func(n int) error {
			_, err := answers.Conflicts(b.Context(), made.Animal(n))
			return err
		},
		"conflicts-genus-": func(n int) error { _, err := answers.Conflicts(b.Context(), genera[n]); return err },
	} {
		reportTimes(b, name, timesOf(b, times, ask))
	}
}

// benchFTS puts the same pages into SQLite's full text (FTS5, Porter's stems)
// and asks it the same as far as it can: it knows no sections, claims or names.
func benchFTS(b *testing.B, c *made.Corpus, path string, pages int, questions []query.Search) {
	db, err := sql.Open("sqlite", "file:"+path+"?_pragma=journal_mode(wal)&_pragma=synchronous(full)")
	if err != nil {
		b.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec(`CREATE VIRTUAL TABLE pages USING fts5(paper UNINDEXED, page UNINDEXED, text, tokenize='porter unicode61')`); err != nil {
		b.Fatal(err)
	}
	var spent time.Duration
	const batch = 40
	for n := 0; n < pages/made.PagesAPaper; n += batch {
		var papers []made.Paper
		for i := n; i < min(n+batch, pages/made.PagesAPaper); i++ {
			papers = append(papers, c.Paper(i))
		}
		began := time.Now()
		if err := putFTS(db, papers); err != nil {
			b.Fatal(err)
		}
		spent += time.Since(began)
	}
	b.ReportMetric(float64(pages)/spent.Seconds(), "fts5-pages/s")
	reportTimes(b, "fts5-", timesOf(b, len(questions), func(n int) error {
		rows, err := db.Query(`SELECT paper, page, snippet(pages, 2, '', '', '…', 40) FROM pages WHERE pages MATCH ? ORDER BY rank LIMIT 20`, matchOf(questions[n].Words))
		if err != nil {
			return fmt.Errorf("%s: %w", matchOf(questions[n].Words), err)
		}
		defer rows.Close()
		for rows.Next() {
			var paper, page int
			var text string
			if err := rows.Scan(&paper, &page, &text); err != nil {
				return err
			}
		}
		return rows.Err()
	}))
	if _, err := db.Exec(`PRAGMA wal_checkpoint(TRUNCATE)`); err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(sizeOf(path))/1e6, "fts5-MB")
}

func putFTS(db *sql.DB, papers []made.Paper) error {
	tx, err := db.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	for _, p := range papers {
		for i, page := range p.Pages {
			var text strings.Builder
			for _, part := range page.Parts {
				text.WriteString(part.Text + "\n")
			}
			if _, err := tx.Exec(`INSERT INTO pages VALUES (?, ?, ?)`, p.Number, i+1, text.String()); err != nil {
				return err
			}
		}
	}
	return tx.Commit()
}

// matchOf puts a question into FTS5's syntax.
func matchOf(words string) string {
	var out []string
	quoted := false
	for _, w := range strings.Fields(words) {
		switch {
		case strings.HasPrefix(w, `"`):
			quoted = true
			out = append(out, w)
		case quoted:
			quoted = !strings.HasSuffix(w, `"`)
			out = append(out, w)
		case strings.HasPrefix(w, "-"):
			out = append(out, "NOT", w[1:])
		case strings.Contains(w, "|"):
			out = append(out, "("+strings.ReplaceAll(w, "|", " OR ")+") AND")
		default:
			out = append(out, w)
		}
	}
	return strings.Join(out, " ")
}

// benchGrep looks for a question's rarest word in the text files.
func benchGrep(b *testing.B, files string, questions []query.Search) {
	grep, err := exec.LookPath("grep")
	if err != nil {
		b.Log("grep is not there to compare with")
		return
	}
	reportTimes(b, "grep-", timesOf(b, 5, func(n int) error {
		word := strings.Fields(questions[n*len(kinds)].Words)[0]
		// Status 1 is grep's way to say that nothing was found.
		if err := exec.Command(grep, "-rlwi", word, files).Run(); err != nil && err.(*exec.ExitError).ExitCode() != 1 {
			return err
		}
		return nil
	}))
}
