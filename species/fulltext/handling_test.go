package fulltext

import (
	"fmt"
	"testing"

	"hatchlore/ingest"

	"github.com/google/go-cmp/cmp"
)

func TestHandledIn(t *testing.T) {
	for _, tt := range []struct {
		text string
		want []string
	}{
		{"A part of the eggs was first dried on trays for 30 days at 25 °C, another was frozen at −8 °C.", []string{"drying-temperature 25–25 A part of the eggs was first dried on trays for 30 days at 25 °C"}},
		{"One half was dried slowly at 8 °C over four weeks; Alder (1960) had dried his at 30 °C.", []string{"drying-temperature 8–8 One half was dried slowly at 8 °C"}},
		{"Eggs were dried in air at 77 °F for 28 days before the cold, and then given 60 days at 4 °C.", []string{"drying-temperature 25–25 Eggs were dried in air at 77 °F"}},
		{"Lots were dried at 5, 15 and 25 °C.", []string{"drying-temperature 5–25 Lots were dried at 5, 15 and 25 °C"}},
		{"Der Schlamm wurde zwei Wochen lang bei 20 °C getrocknet.", []string{"drying-temperature 20–20 Der Schlamm wurde zwei Wochen lang bei 20 °C getrocknet"}},
		{"Le sédiment a été séché à l’air à 22 °C pendant 30 jours.", []string{"drying-temperature 22–22 Le sédiment a été séché à l’air à 22 °C"}},
		{"Dried eggs were held for 20 days at −12 °C.", nil},
		{"Eggs that had been dried and then chilled were flooded at 5 and 8 °C.", nil},
		{"Never dried, at 8 °C, and without drying at 9 °C.", nil},
		{"Of the dried ones none hatched at 3 °C.", nil},
		{"Des œufs séchés pendant 120 jours ont été incubés à 6 °C.", nil},
		{"Bei 9 °C schlüpften die Eier, getrocknet wurde nichts.", nil},
		{"Eggs were dried at room temperature.", nil}, // no number is printed
		{"Half of the peat was kept wet in closed jars.", []string{"wet-keeping closed vessels Half of the peat was kept wet in closed jars"}},
		{"The rest stayed wet, and the water above it was changed weekly.", []string{"wet-keeping changed water The rest stayed wet, and the water above it was changed weekly"}},
		{"Bottles were flushed and closed for 12 h.", nil},
		{"Der Schlamm wurde im Dezember entnommen, nachdem die ersten Fröste vorüber waren.", []string{"earlier-cold frost Der Schlamm wurde im Dezember entnommen, nachdem die ersten Fröste vorüber waren"}},
		{"Mud was collected in July, and its pool freezes in winter.", nil},
		{"Mud was collected before the first frost.", nil},
		{"Mud was collected on 28 July and carried on ice.", nil},
	} {
		var got []string
		for _, h := range HandledIn([]ingest.Page{{Number: 1, Text: tt.text}}) {
			value := h.Value
			if h.Low != nil {
				value = fmt.Sprintf("%.0f–%.0f", *h.Low, *h.High)
			}
			got = append(got, fmt.Sprintf("%s %s %s", h.What, value, h.Quote))
		}
		if d := cmp.Diff(tt.want, got); d != "" {
			t.Errorf("%s\n%s", tt.text, d)
		}
	}
}

// Where a paper has methods they alone tell what it did, and a species named with it
// is kept.
func TestHandledInMethods(t *testing.T) {
	page := ingest.Page{Number: 3}
	for _, b := range []struct {
		section ingest.Section
		text    string
	}{
		{ingest.SectionIntroduction, "Eggs that had been dried at 40 °C died."},
		{ingest.SectionMethods, "Eggs of Triops longicaudatus were dried at 20 °C; those of Lepidurus apus were dried at 5 °C."},
		{ingest.SectionResults, "When we repeated it, eggs were dried at 30 °C."},
	} {
		page.Blocks = append(page.Blocks, ingest.Block{Kind: ingest.Paragraph, Section: b.section, Start: len(page.Text), End: len(page.Text) + len(b.text)})
		page.Text += b.text + "\n"
	}
	var got []string
	for _, h := range HandledIn([]ingest.Page{page}) {
		got = append(got, fmt.Sprintf("%s %.0f p. %d", h.Taxon, *h.Low, h.Page))
	}
	if d := cmp.Diff([]string{"Triops longicaudatus 20 p. 3", "Lepidurus apus 5 p. 3"}, got); d != "" {
		t.Error(d)
	}
}

func FuzzHandledIn(f *testing.F) {
	for _, s := range []string{"", "dried at 25 °C", "bei 25 °C getrocknet", "wet in closed jars; dried (", "Eggs collected after frost. 12. Mai", "dry\u00a0at −5 °C"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, h := range HandledIn([]ingest.Page{{Number: 1, Text: text}}) {
			if h.Quote == "" || h.What == DryingTemperature && (h.Low == nil || h.High == nil || *h.Low > *h.High) {
				t.Errorf("%q: %+v", text, h)
			}
		}
	})
}
