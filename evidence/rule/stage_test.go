package rule

import (
	"testing"

	"hatchlore/evidence"
)

// What a paper says it counted holds for all that came of its eggs.
func TestDefinedStage(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	const outcome = " At 12 °C 40 % of the eggs hatched."
	for text, want := range map[string]evidence.Stage{
		"Eggs were set in dishes." + outcome:                                                                                evidence.StageHatching,
		"An egg was taken as hatched when its nauplius swam." + outcome:                                                     evidence.StageHatching,
		"Every egg whose shell had burst and whose embryo protruded was counted as hatched." + outcome:                      evidence.StageEmergence,
		"We scored an egg as hatched once its shell had split; free nauplii were not counted." + outcome:                    evidence.StageEmergence,
		"I speak of emergence when the shell has split, and of hatching when the nauplius has left the membrane." + outcome: evidence.StageHatching,
		"Miller (1980) counted as hatched every egg whose shell had burst." + outcome:                                       evidence.StageHatching,
		"Gezählt wurden nur freischwimmende Larven. Bei 12 °C gab es 40 % Larven aus den Eiern.":                            evidence.StageHatching,
		"Eggs were counted as hatched when their shell had split. In the second winter 12 °C favoured the eggs.":            evidence.StageEmergence,
	} {
		claims := set.Match(document("Triops", text))
		if len(claims) == 0 {
			t.Errorf("no claim in %q", text)
		}
		for _, c := range claims {
			if c.Bearing != evidence.Reported && c.Stage != want {
				t.Errorf("%q: %s %s counts %q, want %q", text, c.Factor, c.Printed, c.Stage, want)
			}
		}
	}
}
