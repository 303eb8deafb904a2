package species

import (
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/fulltext"
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
		"alder": {Key: "alder", Authors: []string{"Alder"}, Year: 1960, Places: speciestest.Places("North Fen")},
		"birch": {Key: "birch", Authors: []string{"Birch"}, Year: 1975, Places: speciestest.Places("North Fen")},
		"cedar": {Key: "cedar", Authors: []string{"Cedar"}, Year: 1990, Places: speciestest.Places("South Heath")},
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

// A place that lies in another is none of its own, whichever paper says so.
func TestPlacesWithinOthers(t *testing.T) {
	lib := witness.Library{
		"alder": {Key: "alder", Authors: []string{"Alder"}, Year: 1960, Places: speciestest.Places("Sedge Hollow")},
		"birch": {Key: "birch", Authors: []string{"Birch"}, Year: 1975, Places: speciestest.Places("Marrow Fen")},
		"cedar": {Key: "cedar", Authors: []string{"Cedar"}, Year: 1990, Places: []fulltext.Origin{{Place: "Sedge Hollow", Within: "Marrow Fen", Told: map[string]int{"": 1}}}},
	}
	for _, c := range Conflicts(speciestest.Claims(t, "alder cold favours 30\nbirch cold favours 90"), lib, nil) {
		for _, r := range c.Reasons {
			t.Errorf("%s: %s", r.Kind, r.Note)
		}
	}
}

// A region is named once, and a place with the one in which it lies.
func TestPlacesAreNamedOnce(t *testing.T) {
	of := func(name string, places ...fulltext.Origin) witness.Paper {
		return witness.Paper{Key: name, Authors: []string{name}, Places: places}
	}
	lib := witness.Library{
		"alder": of("Alder", speciestest.Places("Orrin Top")...), "birch": of("Birch", speciestest.Places("Orrin Plateau")...),
		"cedar": of("Cedar", fulltext.Origin{Place: "Sedge Hollow", Within: "Marrow Fen", Told: map[string]int{"": 1}}), "fir": of("Fir", speciestest.Places("Marrow Fen")...),
	}
	for claims, want := range map[string]string{
		"alder cold favours 30\nbirch cold favours 30\ncedar cold favours 90": "the eggs of Alder and Birch came from Orrin Top, those of Cedar from Sedge Hollow in Marrow Fen",
		"alder cold favours 30\ncedar cold favours 90\nfir cold favours 90":   "the eggs of Alder came from Orrin Top, those of Cedar and Fir from Marrow Fen",
	} {
		var got []string
		for _, c := range Conflicts(speciestest.Claims(t, claims), lib, nil) {
			for _, r := range c.Reasons {
				got = append(got, r.Note)
			}
		}
		if strings.Join(got, "\n") != want {
			t.Errorf("%s: %q, want %q", claims, got, want)
		}
	}
}

// What papers did with eggs that no factor covers is a condition of the factor on
// which it bears, with page and words; a paper on both sides tells nothing.
func TestHandlingExplains(t *testing.T) {
	dried := func(v float64) fulltext.Handled {
		return fulltext.Handled{What: fulltext.DryingTemperature, Low: &v, High: &v, Page: 2, Quote: "dried so warm"}
	}
	kept := func(what fulltext.Handling, value string) fulltext.Handled {
		return fulltext.Handled{What: what, Value: value, Page: 3, Quote: "kept so"}
	}
	of := func(taxon string, h fulltext.Handled) fulltext.Handled { h.Taxon = taxon; return h }
	const needless = "alder dry indifferent not-required\nbirch dry prevents harmful\ncedar dry favours required"
	for _, tt := range []struct {
		name, claims string
		alder, birch fulltext.Handled
		want         string
	}{
		{"needless slowly, harmful in warmth", needless, dried(8), dried(25), "drying temperature: 8 °C in Alder 1960, p. 2 (“dried so warm”) against 25 °C in Birch 1975, p. 2 (“dried so warm”)"},
		{"as warm", needless, dried(24), dried(25), ""},
		{"one tells none", needless, dried(8), fulltext.Handled{}, ""},
		{"of another species", needless, dried(8), of("Triops longicaudatus", dried(25)), ""},
		{"of this species", needless, dried(8), of("Vernocephala umbrosa", dried(25)), "drying temperature: 8 °C in Alder 1960, p. 2 (“dried so warm”) against 25 °C in Birch 1975, p. 2 (“dried so warm”)"},
		{"found both ways", "alder dry indifferent not-required\nbirch dry indifferent not-required\nbirch dry favours required\ncedar dry favours required", dried(8), dried(25), ""},
		{"foul water", "alder dry favours required\nbirch dry indifferent not-required", kept(fulltext.WetKeeping, fulltext.KeptClosed), kept(fulltext.WetKeeping, fulltext.KeptRenewed),
			"keeping of undried eggs: closed vessels in Alder 1960, p. 3 (“kept so”) against changed water in Birch 1975, p. 3 (“kept so”)"},
		{"foul water, told the other way round", "alder dry indifferent not-required\nbirch dry favours required", kept(fulltext.WetKeeping, fulltext.KeptRenewed), kept(fulltext.WetKeeping, fulltext.KeptClosed),
			"keeping of undried eggs: closed vessels in Birch 1975, p. 3 (“kept so”) against changed water in Alder 1960, p. 3 (“kept so”)"},
		{"both closed", "alder dry favours required\nbirch dry indifferent not-required", kept(fulltext.WetKeeping, fulltext.KeptClosed), kept(fulltext.WetKeeping, fulltext.KeptClosed), ""},
		{"a winter before", "alder cold favours 0\nbirch cold favours 90", kept(fulltext.EarlierCold, fulltext.AfterFrost), fulltext.Handled{}, "cold before collection: frost in Alder 1960, p. 3 (“kept so”)"},
		{"a winter before on the other side", "birch cold favours 0\nalder cold favours 90", fulltext.Handled{}, kept(fulltext.EarlierCold, fulltext.AfterFrost), "cold before collection: frost in Birch 1975, p. 3 (“kept so”)"},
		{"no matter of cold", needless, kept(fulltext.EarlierCold, fulltext.AfterFrost), fulltext.Handled{}, ""},
	} {
		lib := witness.Library{
			"alder": {Key: "alder", Authors: []string{"Alder"}, Year: 1960, Handled: []fulltext.Handled{tt.alder}},
			"birch": {Key: "birch", Authors: []string{"Birch"}, Year: 1975, Handled: []fulltext.Handled{tt.birch}},
			"cedar": {Key: "cedar", Authors: []string{"Cedar"}, Year: 1990},
		}
		var got []string
		for _, c := range Conflicts(speciestest.Claims(t, tt.claims), lib, nil) {
			for _, r := range c.Reasons {
				if r.Handling != "" {
					got = append(got, r.Note)
				}
			}
		}
		if strings.Join(got, "\n") != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}
