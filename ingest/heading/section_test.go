package heading

import (
	"testing"

	"hatchlore/ingest"
)

func TestSections(t *testing.T) {
	for heading, want := range map[string]ingest.Section{
		"Abstract": ingest.SectionAbstract, "A B S T R A C T": ingest.SectionAbstract, "ZUSAMMENFASSUNG": ingest.SectionAbstract, "1. Introduction": ingest.SectionIntroduction,
		"2 Materials and Methods": ingest.SectionMethods, "Material und Methoden": ingest.SectionMethods, "Matériel et méthodes": ingest.SectionMethods, "IV. Results": ingest.SectionResults,
		"Ergebnisse": ingest.SectionResults, "Discusión": ingest.SectionDiscussion, "LITERATURE CITED": ingest.SectionReferences, "Literatur": ingest.SectionReferences,
		"Références": ingest.SectionReferences, "Acknowledgements": ingest.SectionOther,
	} {
		if got, ok := Section(heading); !ok || got != want {
			t.Errorf("%q is %q, want %q", heading, got, want)
		}
	}
	for _, text := range []string{"Results were poor in all dishes", "methods", "Eggs", ""} {
		if got, ok := Section(text); ok {
			t.Errorf("%q is %q, want none", text, got)
		}
	}
}

// TestOf: a heading that is known to be one is told by a word.
func TestOf(t *testing.T) {
	for text, want := range map[string]ingest.Section{
		"Abstract": ingest.SectionAbstract, "2. Sites and methods": ingest.SectionMethods, "Ergebnisse der Versuche": ingest.SectionResults, "General discussion": ingest.SectionDiscussion,
		"Hatching and drought": ingest.SectionUnknown, "How the results of all of the trials were weighed": ingest.SectionUnknown,
	} {
		if got, ok := Of(text); got != want || ok != (want != ingest.SectionUnknown) {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}

func TestCaptions(t *testing.T) {
	for text, want := range map[string]bool{
		"Figure 1. Hatching": true, "Fig. 2: Hatching": true, "FIGURE 3": true, "Table 4—Counts": true, "Abb. 5. Schlupf": true, "Tabelle 6. Zahlen": true, "Tableau II. Œufs": true,
		"Figure 2 shows that eggs hatch": false, "Table 1 lists them.": false, "Figures are drawn": false, "Tab water was used": false,
	} {
		if got := IsCaption(text, false); got != want {
			t.Errorf("%q: %v, want %v", text, got, want)
		}
	}
}
