package fulltext

import (
	"fmt"
	"testing"

	"hatchlore/corpus-sample/made"
	"hatchlore/ingest"
	"hatchlore/ingest/textfile"
)

// BenchmarkEggs reads where the eggs of a paper of ten pages came from and how they
// were handled, as the disagreements on a genus want it of every paper on it.
func BenchmarkEggs(b *testing.B) {
	c := made.New(7)
	var papers [][]ingest.Page
	for n := range 40 {
		d, err := textfile.Read(fmt.Sprint(n, ".txt"), fmt.Sprint(n), []byte(c.Paper(n).Text()))
		if err != nil {
			b.Fatal(err)
		}
		papers = append(papers, d.Pages)
	}
	b.ReportAllocs()
	for n := 0; b.Loop(); n++ {
		OriginsOf(papers[n%len(papers)])
		HandledIn(papers[n%len(papers)])
	}
}
