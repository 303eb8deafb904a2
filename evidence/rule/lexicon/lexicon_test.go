package lexicon

import (
	"errors"
	"strings"
	"testing"
)

func TestCueErrors(t *testing.T) {
	for _, c := range []struct {
		name, text string
		line       int
		msg        string
	}{
		{"no language", "hatch: hatch*\n", 1, "no language"},
		{"no colon", "language: en\nhatch hatch*", 2, "NAME: PHRASES"},
		{"list first", "  hatch*", 1, "no entry above"},
		{"gap at the end", "language: en\nhatch: no ~", 2, "begins and ends with a word"},
		{"bare star", "language: en\nhatch: a, *", 2, "bad word"},
		{"bad name", "language: en\n9x: a", 2, "bad entry name"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Parse("x.cue", c.text)
			var se *SyntaxError
			if !errors.As(err, &se) {
				t.Fatalf("got %v, want a syntax error", err)
			}
			if se.Line != c.line || !strings.Contains(se.Msg, c.msg) {
				t.Errorf("got %v, want line %d: %s", se, c.line, c.msg)
			}
		})
	}
}

func FuzzParseCues(f *testing.F) {
	f.Add("language: en\nhatch: hatch*, *schlupf*, no ~ effect # words\n  day <n>\n", "The eggs hatch on day 3; no large effect.")
	f.Fuzz(func(t *testing.T, cues, text string) {
		lex, err := Parse("x.cue", cues)
		if err != nil {
			return
		}
		ws := Words(text, 0, len(text))
		last := Cue{}
		for _, c := range lex.Find(ws, map[string]bool{"void": true}) {
			if c.From < last.From || c.To <= c.From || c.To > len(ws) {
				t.Fatalf("cue %+v behind %+v in %d words", c, last, len(ws))
			}
			last = c
		}
	})
}

// Marks count where two words differ in them alone and mean different things;
// elsewhere a scan that lost them is read all the same.
func TestMarksOnLetters(t *testing.T) {
	lex, err := Parse("de.cue", "language: de\npast: wurde\nhypo: würde\nchill: Kälte, kalte Zeit")
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]string{"es wurde": "past", "es würde": "hypo", "die Kälte": "chill", "die Kalte": "chill", "WÜRDE": "hypo"} {
		got := ""
		for _, c := range lex.Find(Words(text, 0, len(text)), nil) {
			got += c.Class
		}
		if got != want {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
}
