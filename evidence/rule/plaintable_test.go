package rule

import (
	"fmt"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/ingest"
)

// told lists claims as "factor bearing value category".
func told(claims []evidence.Claim) (out []string) {
	for _, c := range claims {
		out = append(out, strings.TrimSpace(fmt.Sprintf("%s %s %s %s", c.Factor, c.Bearing, interval(c.Low, c.High), c.Category)))
	}
	return out
}

func TestPlainTables(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, lang, text, want string }{
		{"heads of several words", "en", "Table 1. Nauplii of Fictobranchus albus per dish.\nDays at 3 °C Dried 20 days Never dried\n0 0 0\n30 4 9",
			"stratification-temperature favours 3, drying favours 20, drying indifferent - not-required, stratification-length prevents 0, stratification-length favours 30"},
		{"labels before the numbers", "en", "Table 1. Hatching of eggs (%).\nTreatment Emerged Hatched\nFictobranchus albus, 12 °C 70 31\nFictobranchus albus, 20 °C 60 0",
			"incubation-temperature favours 12, hatching-fraction favours 70, hatching-fraction favours 31, incubation-temperature prevents 20, hatching-fraction favours 60"},
		{"German", "de", "Tabelle 1. Schlupf aus Eiern bei 9 °C in Prozent.\nTage bei 4 °C Wiese Wald\n0 0 0\n30 12 0",
			"incubation-temperature favours 9, stratification-temperature favours 4, stratification-temperature prevents 4, stratification-length prevents 0, stratification-length favours 30, stratification-length prevents 30, hatching-fraction favours 12"},
		{"French", "fr", "Tableau 1. Éclosion des œufs selon la durée du séchage.\nSéchage (jours) Nauplius Éclosion (%)\n0 0 0\n30 12 24",
			"drying prevents 0, drying favours 30, hatching-fraction favours 24"},
		{"Spanish", "es", "Tabla 1. Eclosión de los huevos tras el frío.\nDías de frío Eclosión (%)\n0 0\n30 24",
			"stratification-length prevents 0, stratification-length favours 30, hatching-fraction favours 24"},
		{"Italian", "it", "Tabella 1. Schiusa delle uova dopo il freddo.\nGiorni di freddo Schiusa (%)\n0 0\n30 24",
			"stratification-length prevents 0, stratification-length favours 30, hatching-fraction favours 24"},
		{"Portuguese", "pt", "Tabela 1. Eclosão dos ovos após o frio.\nDias de frio Eclosão (%)\n0 0\n30 24",
			"stratification-length prevents 0, stratification-length favours 30, hatching-fraction favours 24"},
		{"rows that end with a word", "en", "Table 1. Cold periods of eggs, and the event counted.\nSource Eggs of Days Event\nAlder 1962 Fictobranchus albus, Low Fen 30 hatching\nBirch 1974 Fictobranchus albus, Top Moor 90–120 hatching\nHazel 1996 Fictobranchus albus, Top Moor 95 emergence",
			"stratification-length favours 30, stratification-length favours 90..120, stratification-length favours 95"},
		{"bars between the cells", "en", "Table 1. Hatching of eggs at four conductivities (25 °C).\nConductivity (µS/cm) | Hatched (%)\n150 | 58.2\n1500 | 9.3\n3000 | 0",
			"incubation-temperature favours 25, conductivity favours 150, hatching-fraction favours 58.2, conductivity favours 1500, hatching-fraction favours 9.3, conductivity prevents 3000"},
		{"a rule below the heads", "en", "Table 1. Hatching of eggs.\n| Temperature (°C) | Hatched (%) |\n|---|---|\n| 5 | 0 |\n| 12 | 61 |",
			"incubation-temperature prevents 5, incubation-temperature favours 12, hatching-fraction favours 61"},
		{"entries of a list", "en", "Fictobranchus albus, time to the first nauplius\n15 °C: no hatch\n20 °C: 38 h\n25 °C: 22 h\nLarvae were used at once.",
			"incubation-temperature prevents 15, incubation-temperature favours 20, time-to-hatch favours 1.583, incubation-temperature favours 25, time-to-hatch favours 0.9167"},
		{"lines of text that end with a number and a word", "en", "Shrimps of the moor lived for 30 days\nand those of the fen for 20 days\nand of the pans for 10 days", ""},
		{"lines that end with years are no rows", "en", "Eggs were sent by the keepers in May 1962\nand by their friends in the year 1971\nand once more in the summer of 1975", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			doc := document("Hatching of Fictobranchus albus", c.text)
			doc.Lang = c.lang
			claims := set.Match(doc)
			if got := strings.Join(told(claims), ", "); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
			for _, claim := range claims {
				text := []rune(doc.Pages[0].Text)
				if string(text[claim.Start:claim.End]) != claim.Quote {
					t.Errorf("quote %q does not stand at %d to %d", claim.Quote, claim.Start, claim.End)
				}
			}
		})
	}
}

// A caption whose lines the layout has torn apart is put together again by
// where they stand; the label of an axis beside it is left out.
func TestTornCaption(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	doc := tableDocument("at 12 °C after cold at 3 °C.", []string{"Weeks of cold", "Share"}, []string{"4", "0"}, []string{"8", "17"})
	page := &doc.Pages[0]
	page.Blocks[1].Kind = ingest.Paragraph
	label := "Table 1. Hatching of eggs (per cent)"
	page.Text += label + "\n80"
	at := len(page.Text) - len("\n80") - len(label)
	line := func(start, end int, x, y float64) {
		page.Lines = append(page.Lines, ingest.Line{Start: start, End: end, X: x, Y: y, Width: 90, Size: 8})
	}
	line(at, at+len(label), 45, 60)
	line(len(page.Text)-2, len(page.Text), 270, 60)
	line(page.Blocks[1].Start, page.Blocks[1].End, 45, 72)
	for i, row := range page.Blocks[2].Rows {
		line(row.Cells[0].Start, row.Cells[1].End, 60, 90+float64(12*i))
	}
	want := "incubation-temperature favours 12, stratification-temperature favours 3, stratification-length prevents 28, stratification-length favours 56, hatching-fraction favours 17"
	if got := strings.Join(told(set.Match(doc)), ", "); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// Numbers that the file does not map to characters give no claim.
func TestUntrustedCells(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	doc := tableDocument("Table 1. Hatching of eggs.", []string{"Temperature (°C)", "Hatched (%)"}, []string{"5", "10"}, []string{"12", "61"})
	page := &doc.Pages[0]
	cells := page.Blocks[2].Rows
	for _, c := range []ingest.Cell{cells[1].Cells[0], cells[2].Cells[1]} {
		page.Marks = append(page.Marks, ingest.Mark{Start: c.Start, End: c.End, Kind: ingest.Untrusted})
	}
	want := "hatching-fraction favours 10, incubation-temperature reported 12"
	if got := strings.Join(told(set.Match(doc)), ", "); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// Whatever a text with tables looks like, its claims are sound.
func FuzzMatchTables(f *testing.F) {
	set, err := Load()
	if err != nil {
		f.Fatal(err)
	}
	f.Add("Table 1. Hatching of eggs (%).\nTreatment Emerged Hatched\nwet, 12 °C 70 31\ndry 60 0\nAnd so on.")
	f.Add("Days at 3 °C Dried\n0 0\n30 4\n60 –")
	f.Fuzz(func(t *testing.T, text string) {
		for _, c := range set.Match(document("Fictobranchus albus", strings.ReplaceAll(text, "\n\n", "\n"))) {
			if p := c.Lint(); len(p) > 0 {
				t.Fatalf("%+v: %v", c, p)
			}
		}
	})
}
