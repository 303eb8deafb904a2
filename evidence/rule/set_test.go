package rule

import (
	"strings"
	"testing"
	"testing/fstest"
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

func TestParseRefusesUnknownClasses(t *testing.T) {
	cues := &fstest.MapFile{Data: []byte("language: en\nhatch: hatch*\n")}
	for _, c := range []struct{ name, rules, msg string }{
		{"sound", soundRule, ""},
		{"unknown class", strings.Replace(soundRule, "hatch in clause", "thaw in clause", 1), "unknown class or group thaw"},
		{"unknown group member", strings.Replace(soundRule, "= hatch", "= thaw", 1), "unknown class in group event"},
		{"same id twice", soundRule + strings.TrimPrefix(soundRule, "group event = hatch\n"), "second rule with this id"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Parse(fstest.MapFS{"cues/en.cue": cues, "rules/a.rule": {Data: []byte(c.rules)}})
			switch {
			case c.msg == "" && err != nil:
				t.Fatal(err)
			case c.msg != "" && (err == nil || !strings.Contains(err.Error(), c.msg)):
				t.Errorf("got %v, want %s", err, c.msg)
			}
		})
	}
	if _, err := Parse(fstest.MapFS{}); err == nil {
		t.Error("a set without cue files was accepted")
	}
}
