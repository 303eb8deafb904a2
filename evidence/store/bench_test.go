package store

import (
	"database/sql"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"hatchlore/evidence"
	"hatchlore/ingest"
)

// benchPages names the size of the benchmark's library.
const benchPages = "HATCHLORE_BENCH_PAGES"

const pagesAPaper = 10

// benchPaper makes a paper of ten pages of about 3 kB in 55 lines, with three
// claims a page.
func benchPaper(rnd *rand.Rand, words []string, n int) (Paper, []evidence.Claim) {
	p := paper(n)
	var claims []evidence.Claim
	for i := range pagesAPaper {
		page := ingest.Page{Number: i + 1, How: ingest.ByText}
		var b strings.Builder
		for line := range 55 {
			start := b.Len()
			for range 9 {
				b.WriteString(words[int(float64(len(words))*rnd.Float64()*rnd.Float64()*rnd.Float64())] + " ")
			}
			page.Lines = append(page.Lines, ingest.Line{Start: start, End: b.Len() - 1, X: 72 + float64(rnd.IntN(300))/100, Y: float64(line) * 12.3,
				Width: 400 + 50*rnd.Float64(), Size: 9.96})
			b.WriteByte('\n')
			if line%8 == 7 {
				page.Blocks = append(page.Blocks, ingest.Block{Kind: ingest.Paragraph, Section: ingest.SectionResults, Start: start, End: b.Len()})
			}
		}
		page.Text = b.String()
		p.Pages = append(p.Pages, page)
		for k := range 3 {
			quote := page.Text[page.Lines[k*9].Start : page.Lines[k*9].Start+30]
			start := utf8.RuneCountInString(page.Text[:page.Lines[k*9].Start])
			c := evidence.Claim{Page: i + 1, Start: start, End: start + utf8.RuneCountInString(quote), Quote: quote, Section: "results",
				Taxon: fmt.Sprintf("Branchinella planted%d", rnd.IntN(200)), Factor: evidence.ColdLength, Bearing: evidence.Favours,
				Low: num(float64(k)), High: num(float64(k)), Unit: "d", Printed: "some", Rule: "r", Score: 0.5}
			c.ID = c.MakeID(p.Hash)
			claims = append(claims, c)
		}
	}
	return p, claims
}

// BenchmarkLibrary reports the rate of storing, the size on disk, and the time
// of a taxon's claims and of a listing, for HATCHLORE_BENCH_PAGES pages.
func BenchmarkLibrary(b *testing.B) {
	pages, err := strconv.Atoi(os.Getenv(benchPages))
	if err != nil {
		pages = 2000
	}
	for range b.N {
		benchLibrary(b, pages)
	}
}

func benchLibrary(b *testing.B, pages int) {
	rnd := rand.New(rand.NewPCG(5, 5))
	var words []string
	for range 20_000 {
		words = append(words, hexNoise(rnd.IntN(1<<30), 3+rnd.IntN(7)))
	}
	dir := b.TempDir()
	s, err := Open(dir)
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	var spent time.Duration
	for n := range pages / pagesAPaper {
		p, claims := benchPaper(rnd, words, n)
		began := time.Now()
		if _, err := s.Put(ctx, p, claims); err != nil {
			b.Fatal(err)
		}
		spent += time.Since(began)
	}
	b.ReportMetric(float64(pages)/spent.Seconds(), "pages/s")
	db, err := sql.Open("sqlite", filepath.Join(dir, FileName))
	if err != nil {
		b.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec(`PRAGMA wal_checkpoint(TRUNCATE)`); err != nil {
		b.Fatal(err)
	}
	st, err := os.Stat(filepath.Join(dir, FileName))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(st.Size())/float64(pages), "bytes/page")

	report := func(name string, f func() error) {
		var times []time.Duration
		for range 21 {
			began := time.Now()
			if err := f(); err != nil {
				b.Fatal(err)
			}
			times = append(times, time.Since(began))
		}
		slices.Sort(times)
		b.ReportMetric(float64(times[len(times)/2].Microseconds())/1000, name+"-ms")
	}
	report("taxon", func() error {
		_, err := s.Claims(ctx, Filter{Taxa: []string{fmt.Sprintf("Branchinella planted%d", rnd.IntN(200))}})
		return err
	})
	report("taxa", func() error { _, err := s.TaxonNames(ctx); return err })
	report("page", func() error {
		_, err := s.Page(ctx, fmt.Sprintf("ficta%d", 1900+rnd.IntN(pages/pagesAPaper)), 1+rnd.IntN(pagesAPaper))
		return err
	})
	report("listing", func() error {
		for _, err := range s.Papers(ctx) {
			if err != nil {
				return err
			}
		}
		return nil
	})
}
