package outcome

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"hatchlore/evidence/trial/trialtest"
)

func TestPlot(t *testing.T) {
	r, err := WeighTable(trialtest.Sheet(t, strings.Replace(crowderSheet, "seed,extract", "seed & <co>,extract", 1)), WeighOptions{})
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
