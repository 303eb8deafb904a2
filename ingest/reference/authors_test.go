package reference

import (
	"slices"
	"testing"
)

// The words that join authors are letters alone in some languages, as footnote signs
// are.
func TestJoinedAuthors(t *testing.T) {
	for line, want := range map[string][]string{
		"Remedios Quiñal y Hipólito Barrantes":       {"Quiñal", "Barrantes"},
		"Ilaria Rossolani e Bruno Pezzetti":          {"Rossolani", "Pezzetti"},
		"Ana Soudelo, Bia Limeiro e Rui Carvalhedo":  {"Soudelo", "Limeiro", "Carvalhedo"},
		"Joanna Hallow a, Anders Birk b, Petra Moor": {"Hallow", "Birk", "Moor"},
		"Joanna Hallow e , Anders Birk f":            {"Hallow", "Birk"},
		"Mireille Gaudrelle et Côme Satournin":       {"Gaudrelle", "Satournin"},
	} {
		authors, ok := authorLine(line)
		var got []string
		for _, a := range authors {
			got = append(got, a.Family)
		}
		if !ok || !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", line, got, want)
		}
	}
}
