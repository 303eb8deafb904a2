package syntax

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hatchlore/evidence/rule/lexicon"
)

const soundRule = `group event = hatch
rule heat.hatch
  on temperature
  when hatch in clause
  unless value < 0
  claim incubation-temperature outcome else context
  weight 0.9
  takes "Eggs hatched at 5 °C." => favours 5
  leaves "Frogs live at 5 °C."
`

func TestSyntaxErrors(t *testing.T) {
	for _, c := range []struct {
		name, text string
		line, col  int
		msg        string
	}{
		{"stray word", "hello", 1, 6, "want rule"},
		{"bad id", "rule hatch", 1, 6, "FAMILY.NAME"},
		{"unknown line", "rule a.b\n  onn x", 2, 1, "unknown line"},
		{"unknown factor", "rule a.b\n  on duration\n  claim warmth favours", 3, 9, "factor"},
		{"unknown bearing", "rule a.b\n  on duration\n  claim ph good", 3, 12, "bearing"},
		{"unknown scope", "rule a.b\n  when hatch in chapter", 2, 17, "scope"},
		{"no number", "rule a.b\n  when value < warm", 2, 16, "number"},
		{"too many words", "rule a.b\n  when hatch near 5.5", 2, 22, "number of words"},
		{"open quote", "rule a.b\n  leaves \"Frogs", 2, 10, "double quotes"},
		{"trailing", "group a = b c", 1, 13, "nothing more"},
		{"weight", "rule a.b\n  weight 2", 2, 11, "0 to 1"},
		{"incomplete", "rule a.b\n  on duration\n  silent\n", 1, 1, "without takes"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Parse("x.rule", c.text)
			var se *lexicon.SyntaxError
			if !errors.As(err, &se) {
				t.Fatalf("got %v, want a syntax error", err)
			}
			if se.Line != c.line || se.Col != c.col || !strings.Contains(se.Msg, c.msg) {
				t.Errorf("got %v, want %d:%d %s", se, c.line, c.col, c.msg)
			}
		})
	}
}

// checkRoundTrip parses, prints, parses and prints: both prints must agree.
func checkRoundTrip(t *testing.T, text string) {
	t.Helper()
	f, err := Parse("a.rule", text)
	if err != nil {
		return
	}
	once := f.String()
	g, err := Parse("b.rule", once)
	if err != nil {
		t.Fatalf("printed rules do not parse: %v\n%s", err, once)
	}
	if twice := g.String(); twice != once {
		t.Fatalf("printed differently:\n%s\n%s", once, twice)
	}
}

func TestRoundTrip(t *testing.T) {
	names, err := filepath.Glob("../rules/*.rule")
	if err != nil || len(names) == 0 {
		t.Fatalf("rule files: %v, %v", names, err)
	}
	for _, name := range names {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		checkRoundTrip(t, string(b))
	}
}

func FuzzParseRules(f *testing.F) {
	f.Add(soundRule)
	f.Add("rule a.b\n  on light\n  when nearest a among b | c\n  when several\n  when bears unsaid | favours\n  when d before 3\n  silent\n  takes \"x\"\n  leaves \"y\"\n")
	f.Add("rule a.b\n  on light\n  claim light outcome else none category own bare\n  takes \"x\" => favours 1..2\n  leaves \"y\\n\\nz\"\n")
	f.Fuzz(func(t *testing.T, text string) { checkRoundTrip(t, text) })
}
