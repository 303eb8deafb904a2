package fulltext_test

import (
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/ingest"
	"hatchlore/species/fulltext"
	"hatchlore/species/speciestest"
)

func TestWords(t *testing.T) {
	headed := speciestest.TablePage("None of the dry eggs hatched. They were kept at 4 °C.", 2, "Days\tFen\t", "at 4 °C\t\tPlateau", "0\t2\t0", "30\t61\t0")
	bare := speciestest.TablePage("Eggs.", 0, "nitrogen\t0.6\t5")
	for _, tt := range []struct {
		page  ingest.Page
		quote string
		want  string
	}{
		{headed, "30\t61\t0", "Days at 4 °C 30 · Fen 61 · Plateau 0"},
		{headed, "61", "Days at 4 °C 30 · Fen 61 · Plateau 0"},
		{headed, "Plateau", "Plateau: 0 · 0"},
		{headed, "Fen", "Fen: 2 · 61"},
		{headed, "at 4 °C.", "They were kept at 4 °C."},
		{headed, "None of the dry eggs hatched.", "None of the dry eggs hatched."},
		{bare, "nitrogen", "nitrogen · 0.6 · 5"},
	} {
		at := strings.Index(tt.page.Text, tt.quote)
		first := len([]rune(tt.page.Text[:at]))
		c := evidence.Claim{Page: 1, Start: first, End: first + len([]rune(tt.quote)), Quote: tt.quote}
		if got, table := fulltext.Words(tt.page, c); got != tt.want || table != strings.Contains(got, "·") {
			t.Errorf("%q: %q %t, want %q", tt.quote, got, table, tt.want)
		}
	}
	if got, _ := fulltext.Words(headed, evidence.Claim{Start: 900, End: 999, Quote: "lost"}); got != "lost" {
		t.Errorf("a claim beyond the page: %q", got)
	}
}
