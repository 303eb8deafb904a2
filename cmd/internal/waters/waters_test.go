package waters

import (
	"strings"
	"testing"
)

// What is converted keeps the digits that were typed; what is estimated has three.
func TestDigits(t *testing.T) {
	for _, tt := range []struct {
		typed string
		cold  bool
		want  []string
	}{
		{"12.85 mS/cm", false, []string{"12850 µS/cm", "12.85 mS/cm", "1285 mS/m", "practical salinity 7.37"}},
		{"480.5 uS/cm", true, []string{"480.5 µS/cm", "0.754 mS/cm"}},
		{"1.2 mS/cm", false, []string{"1200 µS/cm", "1.2 mS/cm"}},
		{"15.55 C", false, []string{"15.55 °C", "59.99 °F"}},
		{"0.0345 g/L", false, []string{"0.0345 g/L", "34.5 mg/L"}},
		{"12.75 dH", false, []string{"12.75 °dH", "227.6 mg/L"}},
	} {
		lines, err := converted(tt.typed, 6, 0.0191, tt.cold)
		if !tt.cold {
			lines, err = converted(tt.typed, 25, 0.0191, false)
		}
		if err != nil {
			t.Fatal(err)
		}
		var b strings.Builder
		if err := printWater(&b, lines); err != nil {
			t.Fatal(err)
		}
		for _, want := range tt.want {
			if !strings.Contains(strings.Join(strings.Fields(b.String()), " "), want) {
				t.Errorf("%s: no %q in\n%s", tt.typed, want, b.String())
			}
		}
	}
}

func TestDigitsOf(t *testing.T) {
	for s, want := range map[string]int{"": 0, "12.85 mS/cm": 4, "0.0345 g/L": 3, "600": 3, "8-14.25dH": 4, "-0.5 °C": 1} {
		if got := digitsOf(s); got != want {
			t.Errorf("%q has %d digits, not %d", s, got, want)
		}
	}
}
