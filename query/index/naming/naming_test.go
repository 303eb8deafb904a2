package naming

import (
	"strings"
	"testing"
)

func TestWords(t *testing.T) {
	for typed, want := range map[string]string{
		"Ficta Umbrosa": "ficta|umbrosa", "F. umbrosa": "f.|umbrosa", "f.umbrosa": "f.|umbrosa", "F umbrosa": "f.|umbrosa", "Fi. umbrosa": "fi.|umbrosa",
		"F": "f", "Fícta  cf. umbrosa": "ficta|cf.|umbrosa", " ": "",
	} {
		if got := strings.Join(Words(typed), "|"); got != want {
			t.Errorf("%q: %s, want %s", typed, got, want)
		}
	}
}

func TestTerms(t *testing.T) {
	for name, want := range map[string]string{
		"Ficta":              "ficta",
		"Ficta umbrosa":      "ficta|ficta umbrosa|umbrosa",
		"Ficta ficta":        "ficta|ficta ficta",
		"F. umbrosa":         "f. umbrosa",
		"Ficta cf. umbrosa":  "ficta|ficta cf. umbrosa",
		"Ficta umbrosa alba": "ficta|ficta umbrosa|ficta umbrosa alba|umbrosa",
	} {
		if got := strings.Join(Terms([]string{name}), "|"); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
	twice := []string{"Ficta umbrosa", "Ficta alba"}
	if got := strings.Join(Terms(twice), "|"); got != "alba|ficta|ficta alba|ficta umbrosa|umbrosa" {
		t.Errorf("a genus that comes twice: %s", got)
	}
	if got := Counted(twice); got["ficta"] != 2 || got["ficta alba"] != 1 {
		t.Errorf("counted: %v", got)
	}
}

func TestShort(t *testing.T) {
	for name, want := range map[string]string{"ficta umbrosa": "f. umbrosa", "ficta": "", "f. umbrosa": ""} {
		if got := Short(name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}
