package made

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hatchlore/ingest/textfile"
)

// A paper is what its seed and number make it, whatever was made before.
func TestPaperAgain(t *testing.T) {
	a, b := New(3), New(3)
	a.Paper(1)
	if d := cmp.Diff(a.Paper(17), b.Paper(17)); d != "" {
		t.Error(d)
	}
	if cmp.Equal(a.Paper(17).Text(), New(4).Paper(17).Text()) {
		t.Error("another seed makes the same paper")
	}
}

// The commonest word makes up some hundredths of the text and most words are
// rare, as in prose.
func TestFrequencies(t *testing.T) {
	c := New(3)
	n, count := 0, map[string]int{}
	for i := range 40 {
		for _, w := range strings.Fields(strings.ToLower(c.Paper(i).Text())) {
			n++
			count[w]++
		}
	}
	once := 0
	for _, k := range count {
		if k == 1 {
			once++
		}
	}
	if share := float64(count["the"]) / float64(n); share < .02 || share > .10 {
		t.Errorf("the commonest word has a share of %.3f", share)
	}
	if share := float64(once) / float64(len(count)); share < .3 || share > .8 {
		t.Errorf("words that come once have a share of %.2f", share)
	}
}

// The text file holds each page with its planted names, under its section.
func TestText(t *testing.T) {
	c := New(3)
	for n := range 30 {
		p := c.Paper(n)
		d, err := textfile.Read("made.txt", "", []byte(p.Text()))
		if err != nil {
			t.Fatal(err)
		}
		if len(d.Pages) != PagesAPaper || d.Title != p.Title || d.Lang != "en" {
			t.Fatalf("paper %d: %d pages, title %q, language %q", n, len(d.Pages), d.Title, d.Lang)
		}
		for i, page := range p.Pages {
			for _, m := range page.Mentions {
				if !strings.Contains(d.Pages[i].Text, m.Printed) {
					t.Errorf("paper %d: page %d lacks %q", n, i+1, m.Printed)
				}
			}
			blocks := d.Pages[i].Blocks
			if got := blocks[len(blocks)-1].Section; got != page.Parts[0].Section {
				t.Errorf("paper %d: page %d ends in %q, not %q", n, i+1, got, page.Parts[0].Section)
			}
		}
	}
}

func TestMentions(t *testing.T) {
	short, old, pages := 0, 0, 0
	c := New(3)
	for n := range 200 {
		p := c.Paper(n)
		for _, page := range p.Pages {
			for _, m := range page.Mentions {
				if m.Printed[1] == '.' {
					short++
				}
				if strings.HasPrefix(m.Printed, "Prisco") {
					old++
				}
			}
		}
		pages += len(p.Mentioned("Fictocaris"))
	}
	if short < 300 || old < 15 || pages < 20 {
		t.Errorf("%d short names, %d older ones, %d pages on one genus", short, old, pages)
	}
}
