package index

import (
	"fmt"
	"io/fs"
	"iter"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"hatchlore/ingest"
)

// benchPages names the size of the benchmark's corpus.
const benchPages = "HATCHLORE_BENCH_PAGES"

const pagesAPaper = 10

// corpus makes invented papers. Words follow Zipf's law with an exponent near
// that of English prose (from memory: about 1.1 with a flattened head); common
// words and the trade's own words stand at the ranks they have in papers.
type corpus struct {
	rnd   *rand.Rand
	zipf  *rand.Zipf
	words []string
}

func newCorpus(seed uint64) *corpus {
	c := &corpus{rnd: rand.New(rand.NewPCG(seed, 1))}
	c.words = strings.Fields(`the of and in to a was were with for at by from that on as is be or not which this are eggs after it temperature water
		cysts hatching no days all hatched between these had drying than pond population cold during species each period two other eggs
		salinity hours light incubation larvae sediment diapause pools storage frozen hatch dried nauplii trigger flooding`)
	syllables := strings.Fields(`ba re ti mo lu ka ne so vi da pe ro li mu ga to sa ni fe lo cu ra di be po an er on is ar en ul ith orm est`)
	seen := map[string]bool{}
	for len(c.words) < 50_000 {
		w := ""
		for range 2 + c.rnd.IntN(3) {
			w += syllables[c.rnd.IntN(len(syllables))]
		}
		if !seen[w] {
			seen[w] = true
			c.words = append(c.words, w)
		}
	}
	c.zipf = rand.NewZipf(c.rnd, 1.1, 8, uint64(len(c.words)-1))
	return c
}

func (c *corpus) word() string { return c.words[c.zipf.Uint64()] }

func (c *corpus) text(words int) string {
	var b strings.Builder
	for i := range words {
		switch {
		case i > 0 && i%17 == 0:
			b.WriteString(".\n")
		case i > 0:
			b.WriteByte(' ')
		}
		if c.rnd.IntN(40) == 0 {
			fmt.Fprintf(&b, "%d.%d °C", c.rnd.IntN(30), c.rnd.IntN(10))
			continue
		}
		b.WriteString(c.word())
	}
	return b.String()
}

var benchSections = []ingest.Section{ingest.SectionAbstract, ingest.SectionIntroduction, ingest.SectionMethods, ingest.SectionMethods, ingest.SectionResults,
	ingest.SectionResults, ingest.SectionResults, ingest.SectionDiscussion, ingest.SectionDiscussion, ingest.SectionReferences}

func (c *corpus) paper(n int) Paper {
	p := Paper{Key: fmt.Sprintf("made%d", n), Stamp: "1", Title: c.text(8), Year: 1900 + n%125, Lang: "en"}
	for i := range pagesAPaper {
		page := pageOf(i+1, part{benchSections[i], c.text(230)}, part{benchSections[i], c.text(230)})
		if i == 5 {
			page = pageOf(i+1, part{benchSections[i], c.text(300)}, part{benchSections[i],
				fmt.Sprintf("Eggs of Branchinella planted%d hatched after a cold period of %d days.", n%50, 10+n%80)}, part{benchSections[i], c.text(150)})
			page.Taxa, page.Factors = []string{fmt.Sprintf("Branchinella planted%d", n%50)}, []string{"stratification-length"}
		}
		p.Pages = append(p.Pages, page)
	}
	return p
}

func (c *corpus) papers(pages int) iter.Seq2[Paper, error] {
	return func(yield func(Paper, error) bool) {
		for n := range pages / pagesAPaper {
			if !yield(c.paper(n), nil) {
				return
			}
		}
	}
}

// query makes a question of the kinds keepers ask.
func (c *corpus) query(n int) Query {
	rare := func() string { return c.words[200+c.rnd.IntN(5000)] }
	switch n % 6 {
	case 0:
		return Query{Words: "hatching temperature"}
	case 1:
		return Query{Words: `"cold period" ` + rare()}
	case 2:
		return Query{Words: rare() + " eggs"}
	case 3:
		name := fmt.Sprintf("branchinella planted%d", c.rnd.IntN(50))
		return Query{Words: name + " cold", Same: same(map[string][]string{name: {"chirocephalus " + rare()}})}
	case 4:
		return Query{Words: "drying|dried|frozen eggs -" + rare(), From: 1950, To: 1990}
	}
	return Query{Words: rare() + " " + rare()}
}

// BenchmarkCorpus reports the rate of indexing, the size on disk, the peak of
// the heap and the time of a question, for HATCHLORE_BENCH_PAGES pages.
func BenchmarkCorpus(b *testing.B) {
	pages, err := strconv.Atoi(os.Getenv(benchPages))
	if err != nil {
		pages = 2000
	}
	for range b.N {
		benchCorpus(b, pages)
	}
}

func benchCorpus(b *testing.B, pages int) {
	c := newCorpus(11)
	dir := filepath.Join(b.TempDir(), DirName)
	var bytes int
	var making time.Duration
	papers := func(yield func(Paper, error) bool) {
		at := time.Now()
		for p, err := range c.papers(pages) {
			for _, page := range p.Pages {
				bytes += len(page.Text)
			}
			making += time.Since(at)
			if !yield(p, err) {
				return
			}
			at = time.Now()
		}
	}
	peak := watchHeap()
	began := time.Now()
	ix, err := Rebuild(ctx, dir, papers)
	if err != nil {
		b.Fatal(err)
	}
	spent := time.Since(began) - making
	b.ReportMetric(float64(pages)/spent.Seconds(), "pages/s")
	b.ReportMetric(float64(peak())/1e6, "peak-heap-MB")
	b.ReportMetric(float64(bytes)/1e6, "text-MB")
	b.ReportMetric(float64(diskSize(dir))/1e6, "index-MB")

	var times []time.Duration
	for n := range 606 {
		q := c.query(n)
		began := time.Now()
		if _, err := ix.Search(ctx, q); err != nil {
			b.Fatalf("%q: %v", q.Words, err)
		}
		if n >= 6 { // the first touch of each file is the disk's
			times = append(times, time.Since(began))
		}
	}
	slices.Sort(times)
	b.ReportMetric(float64(times[len(times)/2].Microseconds())/1000, "median-ms")
	b.ReportMetric(float64(times[len(times)*99/100].Microseconds())/1000, "99th-ms")
	if err := ix.Close(); err != nil {
		b.Fatal(err)
	}
	began = time.Now()
	ix, err = OpenToRead(dir)
	if err != nil {
		b.Fatal(err)
	}
	if _, err := ix.Search(ctx, Query{Words: "hatching temperature"}); err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(time.Since(began).Microseconds())/1000, "open-and-ask-ms")
	ix.Close()
}

// watchHeap samples the heap until the function it returns is called, which
// returns the peak in bytes.
func watchHeap() func() uint64 {
	stop, peak := make(chan struct{}), make(chan uint64)
	go func() {
		var most uint64
		for {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			most = max(most, m.HeapInuse)
			select {
			case <-stop:
				peak <- most
				return
			case <-time.After(50 * time.Millisecond):
			}
		}
	}()
	return func() uint64 {
		close(stop)
		return <-peak
	}
}

func diskSize(dir string) (sum int64) {
	filepath.WalkDir(dir, func(_ string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			if info, err := d.Info(); err == nil {
				sum += info.Size()
			}
		}
		return nil
	})
	return sum
}
