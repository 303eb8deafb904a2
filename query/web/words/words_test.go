package words

import "testing"

func TestUnitsKept(t *testing.T) {
	for s, want := range map[string]string{
		"Hatched 82 % or 31 %?":         "Hatched 82\u00a0% or 31\u00a0%?",
		"after ≥ 3 d, at 4 °C":          "after ≥ 3\u00a0d, at 4\u00a0°C",
		"Alder 1960 and d of 3 dishes.": "Alder 1960 and d of 3 dishes.",
		"":                              "",
	} {
		if got := unitsKept(s); got != want {
			t.Errorf("%q becomes %q, want %q", s, got, want)
		}
	}
}

func TestCapitalised(t *testing.T) {
	for s, want := range map[string]string{"eggs": "Eggs", "éclosion": "Éclosion", "": "", "12 d": "12 d", "µS": "µS", "Eggs": "Eggs", "\xffx": "\xffx"} {
		if got := Capitalised(s); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}
