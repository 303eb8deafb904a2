package second

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"hatchlore/ingest/pdf/pdftest"
)

// TestContent: where the second reader sees text, by the operators that place
// it (ISO 32000-1, 9.4). Without a table of widths the pen moves by what the
// operators say alone.
func TestContent(t *testing.T) {
	type shown struct {
		Text string
		X, Y float64
		Size float64
	}
	for _, c := range []struct {
		name, content string
		want          []shown
	}{
		{"lines", "BT /F1 10 Tf 12 TL 50 500 Td (a) Tj T* (b) Tj (c) ' 5 -20 Td (d) Tj ET",
			[]shown{{"a", 50, 500, 10}, {"b", 50, 488, 10}, {"c", 50, 476, 10}, {"d", 55, 456, 10}}},
		{"moves between strings", "BT /F1 10 Tf 50 500 Td [(2) -500 (8)] TJ ET", []shown{{"2", 50, 500, 10}, {"8", 55, 500, 10}}},
		{"leading by TD", "BT /F1 10 Tf 50 500 Td 0 -14 TD (a) Tj T* (b) Tj ET", []shown{{"a", 50, 486, 10}, {"b", 50, 472, 10}}},
		{"spacing and scale", "BT /F1 10 Tf 50 Tz 4 Tc 50 500 Td (ab) Tj ET", []shown{{"a", 50, 500, 5}, {"b", 52, 500, 5}}},
		{"spacing by the operator", "BT /F1 10 Tf 12 TL 50 500 Td 1 3 (ab) \" ET", []shown{{"a", 50, 488, 10}, {"b", 53, 488, 10}}},
		{"rise", "BT /F1 10 Tf 50 500 Td 3 Ts (a) Tj ET", []shown{{"a", 50, 503, 10}}},
		{"matrices", "q 2 0 0 2 10 20 cm BT /F1 10 Tf 1 0 0 1 5 5 Tm (a) Tj ET Q BT 5 5 Td (b) Tj ET",
			[]shown{{"a", 20, 30, 20}, {"b", 5, 5, 0}}},
		{"what is wrong is passed over", "Q Q 3 Tm BT /F1 10 Tf Td /F9 10 Tf 50 500 Td (a) Tj ET", []shown{{"a", 50, 500, 10}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := Open(pdftest.Write(pdftest.Pages("", c.content), ""))
			if err != nil {
				t.Fatal(err)
			}
			glyphs, _, _, err := s.glyphs(1)
			if err != nil {
				t.Fatal(err)
			}
			var got []shown
			for _, g := range glyphs {
				got = append(got, shown{string(g.rune), g.x, g.y, g.size})
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("shown (-want +got):\n%s", diff)
			}
		})
	}
}
