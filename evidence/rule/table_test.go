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

// In a table that lies, a claim quotes the line of its value.
func TestQuotesOfATableThatLies(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	doc := tableDocument("Table 1. Hatching of eggs.", [][]string{{"Water (°C)", "7", "9"}, {"Hatched (%)", "44", "0"}}...)
	quoted := map[string]string{}
	for _, c := range set.Match(doc) {
		quoted[fmt.Sprintf("%s %s %s", c.Factor, c.Bearing, interval(c.Low, c.High))] = strings.Join(strings.Fields(c.Quote), " ")
	}
	for said, line := range map[string]string{
		"incubation-temperature favours 7": "Water (°C) 7 9", "incubation-temperature prevents 9": "Water (°C) 7 9", "hatching-fraction favours 44": "Hatched (%) 44 0",
	} {
		if quoted[said] != line {
			t.Errorf("%s stands on %q, want the line %q; %v", said, quoted[said], line, quoted)
		}
	}
}

// A level at which eggs hatched is shown by a row in which they did.
func TestRowThatShowsTheHatch(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	doc := tableDocument("Table 1. Hatching of eggs.", [][]string{{"Drying (d)", "Days of cold", "Hatched"},
		{"0", "0", "0"}, {"0", "30", "3"}, {"0", "90", "40"}, {"60", "0", "0"}, {"60", "90", "9"}}...)
	quoted := map[string]string{}
	for _, c := range set.Match(doc) {
		quoted[fmt.Sprintf("%s %s %s", c.Factor, c.Bearing, interval(c.Low, c.High))] = strings.Join(strings.Fields(c.Quote), " ")
	}
	for said, row := range map[string]string{
		"drying favours 0": "0 90 40", "drying favours 60": "60 90 9",
		"stratification-length prevents 0": "0 0 0", "stratification-length favours 30": "0 30 3", "stratification-length favours 90": "0 90 40",
	} {
		if quoted[said] != row {
			t.Errorf("%s stands on %q, want the row %q; %v", said, quoted[said], row, quoted)
		}
	}
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
			"incubation-temperature prevents 5, incubation-temperature favours 12, hatching-fraction favours 61"},
		{"days of cold", "Table 1. Eggs hatched after moist cold, in per cent.",
			[][]string{{"Days of cold", "Lot A"}, {"0", "0"}, {"60", "44"}},
			"stratification-length prevents 0, stratification-length favours 60, hatching-fraction favours 44"},
		{"levels in the head", "Table 2. Nauplii hatched from stored mud.",
			[][]string{{"Months stored", "45 °F", "68 °F"}, {"1", "0", "9"}, {"3", "0", "31"}},
			"incubation-temperature prevents 7.222, incubation-temperature favours 20, storage-length favours 30, storage-length favours 90"},
		{"two factors down the side", "Table 1. Hatching of eggs.",
			[][]string{{"Days of cold", "Water (°C)", "Hatched"}, {"30", "8", "0"}, {"30", "12", "4"}, {"60", "8", "0"}},
			"incubation-temperature prevents 8, stratification-length favours 30, incubation-temperature favours 12, stratification-length prevents 60"},
		{"origins in the heads", "Table 1. Hatching of eggs (%).",
			[][]string{{"Days at 4 °C", "Fen", "Moor"}, {"0", "7", "0"}},
			"stratification-temperature favours 4, stratification-temperature prevents 4, stratification-length favours 0, stratification-length prevents 0, hatching-fraction favours 7"},
		{"origins down the side", "Table 1. Hatching of eggs (%).",
			[][]string{{"Population", "9 °C", "15 °C", "21 °C"}, {"Fen", "0", "33", "58"}, {"Moor", "41", "17", "0"}},
			"incubation-temperature prevents 9, incubation-temperature favours 9, incubation-temperature favours 15, incubation-temperature favours 21, incubation-temperature prevents 21, " +
				"hatching-fraction favours 33, hatching-fraction favours 58, hatching-fraction favours 41, hatching-fraction favours 17"},
		{"an origin that is named once for its rows", "Table 1. Hatching of eggs.",
			[][]string{{"Origin", "Temperature (°C)", "Hatched"}, {"Fen", "9", "0"}, {"", "15", "8"}, {"Moor", "9", "5"}, {"", "15", "0"}},
			"incubation-temperature prevents 9, incubation-temperature favours 15, incubation-temperature favours 9, incubation-temperature prevents 15"},
		{"levels along the first line", "Table 1. Hatching of eggs at 17 °C.",
			[][]string{{"Salinity (g/L)", "0.5", "3", "9"}, {"Eggs hatched", "61", "4", "0"}, {"Percent", "76.3", "5.0", "0"}, {"First nauplii (days)", "3", "6", "–"}},
			"incubation-temperature favours 17, salinity favours 0.5, salinity favours 3, salinity prevents 9, hatching-fraction favours 76.3, hatching-fraction favours 5, " +
				"time-to-hatch favours 3, time-to-hatch favours 6"},
		{"days of cold along the first line", "Table 1. Hatching of eggs.",
			[][]string{{"Days of cold", "0", "30", "90"}, {"Eggs set", "50", "50", "40"}, {"Hatched", "0", "11", "37"}},
			"stratification-length prevents 0, stratification-length favours 30, stratification-length favours 90"},
		{"days of a watch along the first line", "Table 1. Hatching of eggs after drying.",
			[][]string{{"Day", "1", "2", "3"}, {"Hatched", "0", "11", "37"}}, ""},
		{"heads explained by the caption", "Table 1. Eggs hatched in the hall (10 °C) and in the attic (25 °C).",
			[][]string{{"Days of cold", "Hall", "Attic"}, {"30", "7", "0"}, {"60", "9", "0"}},
			"incubation-temperature favours 10, incubation-temperature prevents 25, stratification-length favours 30, stratification-length favours 60"},
		{"drying that is needed", "Table 1. Hatching of eggs (%) at 9 °C.",
			[][]string{{"Days of cold", "Dried 20 d", "Never dried"}, {"30", "7", "0"}},
			"incubation-temperature favours 9, drying favours 20 required, stratification-length favours 30, hatching-fraction favours 7"},
		{"drying that is not", "Table 1. Hatching of eggs (%).",
			[][]string{{"Days of cold", "Dried 20 d", "Never dried"}, {"30", "0", "7"}},
			"drying prevents 20, drying indifferent - not-required, stratification-length favours 30, hatching-fraction favours 7"},
		{"treatments against a control", "Table 1. Hatching of eggs.",
			[][]string{{"Treatment", "Hatched (%)"}, {"carbon dioxide", "60"}, {"nitrogen", "12"}, {"untreated", "10"}},
			"trigger favours - carbon-dioxide, hatching-fraction favours 60, hatching-fraction favours 12, hatching-fraction favours 10"},
		{"how long it took", "Table 1. Hatching of eggs.",
			[][]string{{"Temperature (°C)", "Days to hatching", "Hatched (%)"}, {"10", "9–12", "50"}, {"20", "–", "0"}},
			"incubation-temperature favours 10, time-to-hatch favours 9..12, hatching-fraction favours 50, incubation-temperature prevents 20"},
		{"species in the heads", "Table 1. Hatching of eggs (%).",
			[][]string{{"Salinity (‰)", "F. albus", "F. ambiguus"}, {"0.5", "60 ± 4", "40"}},
			"salinity favours 0.5, salinity favours 0.5 Fictobranchus ambiguus, hatching-fraction favours 60, hatching-fraction favours 40 Fictobranchus ambiguus"},
		{"cold levels in the heads", "Table 1. Eggs hatched at three temperatures.",
			[][]string{{"pH", "4 °C", "10 °C"}, {"7", "3", "8"}},
			"incubation-temperature favours 4, incubation-temperature favours 10, ph favours 7"},
		{"light", "Table 1. Hatching of eggs.",
			[][]string{{"Photoperiod", "Hatched"}, {"12:12", "5"}, {"darkness", "0"}},
			"light favours - 12:12, light prevents - dark"},
		{"levels without an outcome", "Table 1. Conditions for the hatching of eggs.",
			[][]string{{"Vessel", "Conductivity (µS/cm)"}, {"jar", "90"}, {"pan", "400"}},
			"conductivity reported 90, conductivity reported 400"},
		{"units in the cells", "Table 1. Hatching of eggs.",
			[][]string{{"Temperature", "Hatching (%)", "Days to first nauplius"}, {"7 °C", "0", "–"}, {"13 °C", "22.5 ± 2.0", "9"}, {"19 °C*", "64", "4"}},
			"incubation-temperature prevents 7, incubation-temperature favours 13, time-to-hatch favours 9, hatching-fraction favours 22.5, " +
				"incubation-temperature favours 19, time-to-hatch favours 4, hatching-fraction favours 64"},
		{"lengths in the cells", "Table 1. Hatching of eggs.",
			[][]string{{"Drying", "Salt", "First nauplii after", "Hatched"}, {"never dried", "2 g/L", "–", "0%"}, {"3 weeks", "2 g/L", "5 days", "31%"}, {"2 months", "6 g/L", "24 hours", "40%"}, {"1 year", "6 g/L", "2 days", "8%"}},
			"salinity favours 2, drying favours 21, time-to-hatch favours 5, hatching-fraction favours 31, drying favours 60, salinity favours 6, " +
				"time-to-hatch favours 1, hatching-fraction favours 40, drying favours 365, time-to-hatch favours 2, hatching-fraction favours 8"},
		{"per cent in the cells", "Table 1. Hatching of eggs.",
			[][]string{{"Temperature", "Hatched"}, {"8 °C", "0 %"}, {"room", "5 %"}, {"14 °C", "52 %"}, {"18 °C", "60 %"}},
			"incubation-temperature prevents 8, hatching-fraction favours 5, incubation-temperature favours 14, hatching-fraction favours 52, incubation-temperature favours 18, hatching-fraction favours 60"},
		{"units in the cells say little of pools", "Table 3. Hatching of eggs from three pools.",
			[][]string{{"Pool depth", "Hatched"}, {"20 cm", "8"}, {"1.2 m", "14"}}, ""},
		{"growth is no outcome", "Table 3. Body length of adults.",
			[][]string{{"Temperature (°C)", "Length (mm)"}, {"5", "8"}, {"12", "14"}}, ""},
		{"ponds are no treatment", "Table 3. Temperature of the pools in which shrimps hatched.",
			[][]string{{"Pool", "Temperature (°C)"}, {"A", "8"}, {"B", "14"}}, ""},
		{"survival is no outcome", "Table 3. Survival of nauplii at four temperatures (%).",
			[][]string{{"Temperature (°C)", "Survival (%)"}, {"5", "80"}, {"12", "0"}}, ""},
		{"statistics are no outcome", "Table 3. Analysis of variance of hatching.",
			[][]string{{"Source", "df", "F", "P"}, {"Temperature", "3", "8.1", "0.01"}, {"Drying", "1", "2.2", "0.2"}}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got []string
			for _, claim := range set.Match(tableDocument(c.caption, c.rows...)) {
				said := fmt.Sprintf("%s %s %s %s", claim.Factor, claim.Bearing, interval(claim.Low, claim.High), claim.Category)
				if claim.Taxon != "Fictobranchus albus" {
					said = strings.TrimSpace(said) + " " + claim.Taxon
				}
				got = append(got, strings.TrimSpace(said))
			}
			if s := strings.Join(got, ", "); s != c.want {
				t.Errorf("got  %s\nwant %s", s, c.want)
			}
		})
	}
}
