package species

import (
	"testing"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/speciestest"
	"hatchlore/species/witness"
)

// A value in the wrong unit that nobody found himself is not tried on eggs; one
// that a paper found itself is.
func TestNoLevelForMistakenUnit(t *testing.T) {
	for claims, want := range map[string]int{
		"alder temp favours 10\nbirch temp favours 50 cite:Alder_1960": 0,
		"alder temp favours 10\nbirch temp favours 50":                 2,
		"alder temp favours 10\nbirch temp favours 30 cite:Alder_1960": 2,
	} {
		cs := Conflicts(speciestest.Claims(t, claims), speciestest.Library(), nil)
		if len(cs) != 1 || cs[0].Factor != evidence.WarmTemperature || len(cs[0].Levels) != want {
			t.Errorf("%s: %+v, want %d levels", claims, cs, want)
		}
	}
}

// Those who saw eggs hatch at a disputed value are one camp when their places are
// compared, and a paper on both sides explains nothing.
func TestPlacesOfCamps(t *testing.T) {
	lib := witness.Library{
		"alder": {Key: "alder", Authors: []string{"Alder"}, Year: 1960, Places: []string{"North Fen"}},
		"birch": {Key: "birch", Authors: []string{"Birch"}, Year: 1975, Places: []string{"North Fen"}},
		"cedar": {Key: "cedar", Authors: []string{"Cedar"}, Year: 1990, Places: []string{"South Heath"}},
	}
	cs := Conflicts(speciestest.Claims(t, "alder cond favours 600\nbirch cond indifferent 500..700\ncedar cond prevents 600\ncedar cond favours 50"), lib, nil)
	var notes []string
	for _, c := range cs {
		for _, r := range c.Reasons {
			if c.Kind == conflict.Opposed && r.Kind == conflict.Population {
				notes = append(notes, r.Note)
			}
		}
	}
	if len(notes) != 1 || notes[0] != "the eggs of Alder 1960 and Birch 1975 came from North Fen, those of Cedar 1990 from South Heath" {
		t.Errorf("%q", notes)
	}
}

// Counting opened shells explains why one side saw more, never why it saw
// nothing; who only cites counted nothing.
func TestStageExplains(t *testing.T) {
	for claims, want := range map[string]bool{
		"alder temp favours 20 emergence\nbirch temp prevents 20 hatching\nbirch temp favours 10 hatching":                                        true,
		"alder temp favours 20 hatching\nbirch temp prevents 20 emergence\nbirch temp favours 10 emergence":                                       false,
		"alder temp favours 20 emergence\nalder temp favours 20 hatching cite:Cedar_1990\nbirch temp prevents 20 hatching\nbirch temp favours 10": true,
		"alder temp favours 20 emergence\nbirch temp prevents 20 hatching cite:Cedar_1990":                                                        false,
	} {
		got := false
		for _, c := range Conflicts(speciestest.Claims(t, claims), speciestest.Library(), nil) {
			for _, r := range c.Reasons {
				got = got || c.Kind == conflict.Opposed && r.Kind == conflict.StageMixed
			}
		}
		if got != want {
			t.Errorf("%s: %t", claims, got)
		}
	}
}
