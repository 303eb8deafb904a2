package trial

import (
	"slices"
	"strings"
	"testing"
)

func TestParseChambers(t *testing.T) {
	for _, c := range []struct {
		in   string
		want []Chamber
		err  string
	}{
		{"5|12", []Chamber{{"chamber A", 5, 5}, {"chamber B", 12, 12}}, ""},
		{" 4-20 |tall fridge: 4 - 8", []Chamber{{"chamber A", 4, 20}, {"tall fridge", 4, 8}}, ""},
		{"-20|-5--1|:6", []Chamber{{"chamber A", -20, -20}, {"chamber B", -5, -1}, {}}, `not ":6"`},
		{"-5--1", []Chamber{{"chamber A", -5, -1}}, ""},
		{"20-4", nil, "not \"20-4\""},
		{"cold", nil, "not \"cold\""},
		{strings.Repeat("5|", 26) + "5", nil, "27 chambers"},
	} {
		got, err := ParseChambers(strings.Split(c.in, "|"))
		switch {
		case c.err != "" && (err == nil || !strings.Contains(err.Error(), c.err)):
			t.Errorf("%q: %v, want %q", c.in, err, c.err)
		case c.err == "" && (err != nil || !slices.Equal(got, c.want)):
			t.Errorf("%q: %v, %v", c.in, got, err)
		}
	}
}

func TestParseSpan(t *testing.T) {
	for s, want := range map[string][2]float64{"5": {5, 5}, "4-20": {4, 20}, "-2": {-2, -2}, "-5--2": {-5, -2}, "-2-4.5": {-2, 4.5}} {
		low, high, err := ParseSpan(s)
		if err != nil || low != want[0] || high != want[1] {
			t.Errorf("%q: %v to %v, %v", s, low, high, err)
		}
	}
	for _, s := range []string{"", "-", "warm", "20-4", "4-", "1-2-3"} {
		if _, _, err := ParseSpan(s); err == nil {
			t.Errorf("%q was taken", s)
		}
	}
}
