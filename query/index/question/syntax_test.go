package question

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func w(texts ...string) Clause { return Clause{Any: items(texts...)} }

func items(texts ...string) []Item {
	var out []Item
	for _, t := range texts {
		out = append(out, Item{Text: t})
	}
	return out
}

var syntaxCases = []struct {
	in   string
	want Question
}{
	{"cold drying", Question{w("cold"), w("drying")}},
	{`"cold period"`, Question{{Any: []Item{{"cold period", true}}}}},
	{`"cold  period" x`, Question{{Any: []Item{{"cold period", true}}}, w("x")}},
	{`"never closed`, Question{{Any: []Item{{"never closed", true}}}}},
	{`a"b c"d`, Question{w("a"), {Any: []Item{{"b c", true}}}, w("d")}},
	{"pre-hatch", Question{w("pre-hatch")}},
	{"a -b", Question{w("a"), {Without: true, Any: items("b")}}},
	{`a -"dry ice"`, Question{w("a"), {Without: true, Any: []Item{{"dry ice", true}}}}},
	{"a -b|c", Question{w("a"), {Without: true, Any: items("b", "c")}}},
	{"a - b", Question{w("a"), w("b")}},
	{"a|b", Question{w("a", "b")}},
	{"a | b|c d", Question{w("a", "b", "c"), w("d")}},
	{"| a ||b|", Question{w("a", "b")}},
	{"a --b", Question{w("a"), {Without: true, Any: items("b")}}},
	{"15,5 °C", Question{w("15,5"), w("°C")}},
	{"µS/cm ; œuf", Question{w("µS/cm"), w("œuf")}},
	{"a|-b", Question{w("a", "b")}},
	{"-18 °C", Question{w("18"), w("°C")}},
	{"−18", Question{w("18")}},
	{"-|18", Question{w("18")}},
	{`eggs -"18"`, Question{w("eggs"), {Without: true, Any: []Item{{"18", true}}}}},
	{"“cold period” „dry ice“ «eau douce»", Question{{Any: []Item{{"cold period", true}}}, {Any: []Item{{"dry ice", true}}}, {Any: []Item{{"eau douce", true}}}}},
	{"dry –frozen —warm", Question{w("dry"), {Without: true, Any: items("frozen")}, {Without: true, Any: items("warm")}}},
	{"a – b", Question{w("a"), w("b")}},
	{"a\x00b\x01", Question{w("a"), w("b")}},
	{"", nil},
	{"-a", nil},
	{`"" | - ; "`, nil},
}

func TestParse(t *testing.T) {
	for _, tt := range syntaxCases {
		got, err := Parse(tt.in)
		if (err != nil) != (tt.want == nil) {
			t.Errorf("%q: error %v", tt.in, err)
		}
		if d := cmp.Diff(tt.want, got); d != "" {
			t.Errorf("%q (-want +got):\n%s", tt.in, d)
		}
	}
}

// What is parsed, printed and parsed again is the same.
func FuzzParse(f *testing.F) {
	for _, tt := range syntaxCases {
		f.Add(tt.in)
	}
	f.Fuzz(func(t *testing.T, s string) {
		q, err := Parse(s)
		if err != nil {
			return
		}
		again, err := Parse(q.String())
		if err != nil {
			t.Fatalf("%q printed as %q: %v", s, q, err)
		}
		if d := cmp.Diff(q, again); d != "" {
			t.Fatalf("%q printed as %q (-first +second):\n%s", s, q, d)
		}
	})
}
