package reader

import (
	"fmt"
	"strings"
	"testing"

	"hatchlore/ingest"
	"hatchlore/ingest/pdf/pdftest"
)

// unmapped writes a PDF whose font names the glyph of code 1 so that no reader
// knows its character, as old typesetters' fonts do with the middle dot.
func unmapped(t *testing.T, lines ...string) string {
	t.Helper()
	var content strings.Builder
	content.WriteString("BT /F1 11 Tf 14 TL 50 740 Td\n")
	for _, l := range lines {
		// WinAnsi, in which the degree sign is octal 260 and ± octal 261.
		l = strings.NewReplacer("°", `\260`, "±", `\261`, "¤", `\001`).Replace(l)
		fmt.Fprintf(&content, "(%s) Tj T*\n", l)
	}
	content.WriteString("ET")
	return pdftest.Save(t, "unmapped.pdf", pdftest.Write([]pdftest.Object{
		{Dict: "/Type /Catalog /Pages 2 0 R"},
		{Dict: "/Type /Pages /Kids [3 0 R] /Count 1"},
		{Dict: "/Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 5 0 R /Resources <</Font <</F1 4 0 R>>>>"},
		{Dict: "/Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding <</BaseEncoding /WinAnsiEncoding /Differences [1 /g77]>>"},
		{Stream: []byte(content.String())},
	}, ""))
}

// TestMapErrors: a decimal point that the font does not map makes no other
// number, from the file's bytes to the claims.
func TestMapErrors(t *testing.T) {
	reading, err := newReader(t, Options{}).Read(t.Context(), unmapped(t,
		"Hatching of the invented shrimp Fictocaris umbrosa",
		"This paper was invented for a test, and so was the animal of which it tells.",
		"The resting eggs of Fictocaris umbrosa hatched at 28¤89 °C and at 3¤5 °C in the water.",
		"No eggs of Fictocaris umbrosa hatched at a salinity of 0¤05 g/l in the dark.",
		"The eggs of Fictocaris umbrosa hatched after 1¤5 days in the light of the lamp.",
		"The eggs of Fictocaris umbrosa hatched best when they were held at 18 ± 2¤C.",
		"The eggs of Fictocaris umbrosa hatched at 12 °C after 30 days in the cold."))
	if err != nil {
		t.Fatal(err)
	}
	page := reading.Document.Pages[0]
	for _, n := range []string{"28\uFFFD89", "3\uFFFD5", "0\uFFFD05", "1\uFFFD5"} {
		i := strings.Index(page.Text, n)
		if i < 0 || !page.Marked(ingest.Untrusted, i, i+len(n)) {
			t.Errorf("%q is not an untrusted number in %q", n, page.Text)
		}
	}
	right := map[float64]bool{12: true, 30: true, 16: true, 18: true, 20: true}
	found, inferred := 0, false
	for _, c := range reading.Claims {
		for _, v := range []*float64{c.Low, c.High} {
			if v != nil && !right[*v] {
				t.Errorf("%v %s from %q", *v, c.Unit, c.Quote)
			}
		}
		if c.Low != nil && *c.Low == 12 {
			found++
		}
		inferred = inferred || c.Inferred && strings.HasPrefix(c.Printed, "18 ")
	}
	if found == 0 {
		t.Errorf("12 °C is not among the %d claims", len(reading.Claims))
	}
	if !inferred {
		t.Error("the claim of 18 ± 2 °C does not say that its degree sign is inferred")
	}
}
