package second

import (
	"strings"
	"testing"

	"hatchlore/ingest/pdf/pdftest"
)

func TestPage(t *testing.T) {
	data := pdftest.Write(pdftest.Pages("", pdftest.Line(50, 500, "Hatching at 12 \\260C")), "")
	file, err := Open(data)
	if err != nil {
		t.Fatal(err)
	}
	page := file.Page(1)
	var text strings.Builder
	for _, c := range page.Chars {
		text.WriteRune(c.Rune)
	}
	if got := text.String(); got != "Hatching at 12 °C" || page.Chars[0].Origin != 100 || page.Width != 400 {
		t.Errorf("page spells %q, %v wide, baseline %v", got, page.Width, page.Chars[0].Origin)
	}
	if p := file.Page(9); p.Err == "" {
		t.Error("a page that is not there was read")
	}
}
