package trial

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"
)

func TestSheets(t *testing.T) {
	p := questionsPlan(t, 400)
	p.Taxon = `Branchinecta <i>exempli</i> & "others"`
	for _, paper := range []Paper{A4, Letter} {
		var b bytes.Buffer
		if err := p.WriteSheets(&b, paper); err != nil {
			t.Fatal(err)
		}
		text := b.String()
		if !strings.Contains(text, "size: "+string(paper)) || strings.Contains(text, "<i>exempli") {
			t.Errorf("%s: paper size or escaping is wrong", paper)
		}
		for _, d := range p.Dishes {
			if n := strings.Count(text, d.Label); n < len(lookDaysAfter(14))+4 {
				t.Errorf("%s stands %d times on the sheets", d.Label, n)
			}
		}
	}
	if err := p.WriteSheets(io.Discard, "foolscap"); err == nil {
		t.Error("an unknown paper passes")
	}
	// The count sheets give no treatment away.
	var b bytes.Buffer
	if err := p.WriteSheets(&b, A4); err != nil {
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

func TestPlot(t *testing.T) {
	r, err := readCounts(t, strings.Replace(crowderSheet, "seed,extract", "seed & <co>,extract", 1)).Weigh(WeighOptions{})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := r.WritePlot(&b); err != nil {
		t.Fatal(err)
	}
	d := xml.NewDecoder(&b)
	marks := 0
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := token.(xml.StartElement); ok && (e.Name.Local == "circle" || e.Name.Local == "rect") {
			marks++
		}
	}
	if (&Result{}).WritePlot(io.Discard) == nil {
		t.Error("a result without treatments is drawn")
	}
	if marks != len(r.Treatments) {
		t.Errorf("%d marks for %d treatments", marks, len(r.Treatments))
	}
}
