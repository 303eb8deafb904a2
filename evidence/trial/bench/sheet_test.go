package bench_test

import (
	"bytes"
	"io"
	"strings"
	"testing"

	"hatchlore/evidence/trial/bench"
	"hatchlore/evidence/trial/trialtest"
)

func TestSheets(t *testing.T) {
	p := trialtest.Questions(t, 400)
	p.Taxon = `Branchinecta <i>exempli</i> & "others"`
	for _, paper := range []bench.Paper{bench.A4, bench.Letter} {
		var b bytes.Buffer
		if err := bench.WriteSheets(&b, p, paper); err != nil {
			t.Fatal(err)
		}
		text := b.String()
		if !strings.Contains(text, "size: "+string(paper)) || strings.Contains(text, "<i>exempli") {
			t.Errorf("%s: paper size or escaping is wrong", paper)
		}
		for _, d := range p.Dishes {
			if n := strings.Count(text, d.Label); n < 9+4 {
				t.Errorf("%s stands %d times on the sheets", d.Label, n)
			}
		}
	}
	if err := bench.WriteSheets(io.Discard, p, "foolscap"); err == nil {
		t.Error("an unknown paper passes")
	}
	// The count sheets give no treatment away.
	var b bytes.Buffer
	if err := bench.WriteSheets(&b, p, bench.A4); err != nil {
		t.Fatal(err)
	}
	for _, part := range strings.Split(b.String(), "<h2>Count sheet")[1:] {
		part, _, _ = strings.Cut(part, "</section>")
		for _, word := range []string{"14 days", "dry", "12:12", "light", "cold"} {
			if strings.Contains(part, word) {
				t.Errorf("a count sheet says %q", word)
			}
		}
	}
}
