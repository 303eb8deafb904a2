package rule

import (
	"fmt"
	"strings"
	"testing"

	"hatchlore/ingest"
)

// tableDocument makes a page of a title, a caption and a table whose first
// row is its head.
func tableDocument(caption string, rows ...[]string) *ingest.Document {
	const title = "Hatching of Fictobranchus albus"
	var b strings.Builder
	var page ingest.Page
	block := func(kind ingest.BlockKind, text string) {
		start := b.Len()
		b.WriteString(text)
		page.Blocks = append(page.Blocks, ingest.Block{Kind: kind, Start: start, End: b.Len()})
		b.WriteString("\n")
	}
	block(ingest.Title, title)
	block(ingest.Caption, caption)
	table := ingest.Block{Kind: ingest.Table, Start: b.Len()}
	for i, cells := range rows {
		row := ingest.Row{Head: i == 0}
		for _, c := range cells {
			row.Cells = append(row.Cells, ingest.Cell{Start: b.Len(), End: b.Len() + len(c)})
			b.WriteString(c + "\t")
		}
		b.WriteString("\n")
		table.Rows = append(table.Rows, row)
	}
	table.End = b.Len()
	page.Blocks = append(page.Blocks, table)
	page.Number, page.How, page.Text = 1, ingest.ByText, b.String()
	return &ingest.Document{Source: "table.pdf", Format: "pdf", Title: title, Lang: "en", Pages: []ingest.Page{page}}
}

func TestTables(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name    string
		caption string
		rows    [][]string
		want    string
	}{
		{"levels down the side", "Table 1. Hatching of eggs.",
			[][]string{{"Temperature (°C)", "Hatched (%)"}, {"5", "0"}, {"12", "61 ± 4"}},
			"hatching-fraction prevents 0, incubation-temperature prevents 5, hatching-fraction favours 61, incubation-temperature favours 12"},
		{"days of cold", "Table 1. Eggs hatched after moist cold, in per cent.",
			[][]string{{"Days of cold", "Lot A"}, {"0", "0"}, {"60", "44"}},
			"hatching-fraction prevents 0, stratification-length prevents 0, hatching-fraction favours 44, stratification-length favours 60"},
		{"levels in the head", "Table 2. Nauplii hatched from stored mud.",
			[][]string{{"Months stored", "45 °F", "68 °F"}, {"1", "0", "9"}, {"3", "0", "31"}},
			"storage-length favours 30, incubation-temperature prevents 7.222, incubation-temperature favours 20, storage-length favours 90"},
		{"growth is no outcome", "Table 3. Body length of adults.",
			[][]string{{"Temperature (°C)", "Length (mm)"}, {"5", "8"}, {"12", "14"}}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got []string
			for _, claim := range set.Match(tableDocument(c.caption, c.rows...)) {
				got = append(got, fmt.Sprintf("%s %s %s", claim.Factor, claim.Bearing, interval(claim.Low, claim.High)))
				if claim.Taxon != "Fictobranchus albus" && claim.Taxon != "" {
					t.Errorf("taxon %q", claim.Taxon)
				}
			}
			if s := strings.Join(got, ", "); s != c.want {
				t.Errorf("got  %s\nwant %s", s, c.want)
			}
		})
	}
}
