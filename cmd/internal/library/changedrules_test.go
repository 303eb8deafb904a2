package library

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"hatchlore/cmd/internal/reader"
	"hatchlore/evidence"
	"hatchlore/evidence/rule"
	"hatchlore/evidence/store"
)

// changedRules is the program's rules with each file as change makes it; "" of
// a file leaves it out.
func changedRules(t *testing.T, change func(name, text string) string) *rule.Set {
	t.Helper()
	root := filepath.Join("..", "..", "..", "evidence", "rule")
	files := fstest.MapFS{}
	for _, folder := range []string{"rules", "cues", "heads"} {
		err := fs.WalkDir(os.DirFS(root), folder, func(path string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() {
				return err
			}
			b, err := os.ReadFile(filepath.Join(root, path))
			if text := change(path, string(b)); text != "" {
				files[path] = &fstest.MapFile{Data: []byte(text)}
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	set, err := rule.Parse(files)
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// A keeper's decision outlives a reading by other rules: what was rejected stays
// rejected, what was amended amended, also when a set of rules in between finds
// nothing there.
func TestDecisionsOutliveChangedRules(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "fen.txt")
	const text = "Hatching of Fictocaris umbrosa\n\nInvented for a test. Eggs of Fictocaris umbrosa hatched at 8 °C. No eggs of Fictocaris umbrosa hatched at 25 °C.\n"
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	l, err := Open(filepath.Join(dir, "library"), true)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	read := func(version string, set *rule.Set) {
		t.Helper()
		r := newReader(t, reader.Options{Rules: set, As: version})
		if err := l.AddAll(t.Context(), r, reader.Find([]string{path}), func(o Outcome) {
			if o.State != Added && o.State != Updated {
				t.Errorf("rules %s: %+v", version, o)
			}
		}); err != nil {
			t.Fatal(err)
		}
	}
	claims := func(rejected bool) map[string]evidence.Claim {
		t.Helper()
		all, err := l.Store().Claims(t.Context(), store.Filter{Rejected: rejected})
		if err != nil {
			t.Fatal(err)
		}
		out := map[string]evidence.Claim{}
		for _, c := range all {
			out[c.ID] = c
		}
		return out
	}
	own, err := rule.Load()
	if err != nil {
		t.Fatal(err)
	}
	read("first", own)
	var rejected, amended string
	for id, c := range claims(false) {
		switch {
		case c.Factor == evidence.WarmTemperature && c.Bearing == evidence.Prevents:
			rejected = id
		case c.Factor == evidence.WarmTemperature && c.Bearing == evidence.Favours:
			amended = id
		}
	}
	if rejected == "" || amended == "" {
		t.Fatalf("the test's text is read otherwise: %v", claims(false))
	}
	nine := 9.0
	now := claims(false)[amended]
	now.Low, now.High, now.Printed = &nine, &nine, "9 °C"
	for id, d := range map[string]store.Decision{
		rejected: {Verdict: evidence.Rejected, Reason: "of another animal"},
		amended:  {Verdict: evidence.Amended, Amended: &now, Reason: "a misprint"},
	} {
		if _, err := l.Store().Decide(t.Context(), id, d); err != nil {
			t.Fatal(err)
		}
	}
	stands := func(rules string) {
		t.Helper()
		if _, there := claims(false)[rejected]; there {
			t.Errorf("rules %s: what was rejected is back", rules)
		}
		if c := claims(true)[rejected]; c.Decision != evidence.Rejected {
			t.Errorf("rules %s: the rejected claim is %+v", rules, c)
		}
		if c := claims(false)[amended]; c.Decision != evidence.Amended || c.Low == nil || *c.Low != 9 {
			t.Errorf("rules %s: the amended claim is %+v", rules, c)
		}
		h, err := l.Store().History(t.Context(), rejected)
		if err != nil || len(h) != 1 || h[0].Reason != "of another animal" {
			t.Errorf("rules %s: history %+v %v", rules, h, err)
		}
	}

	renamed := changedRules(t, func(_, text string) string { return strings.ReplaceAll(text, "rule temperature.", "rule warmth.") })
	read("renamed", renamed)
	if c := claims(false)[amended]; !strings.HasPrefix(c.Rule, "warmth.") {
		t.Errorf("the changed rules were not used: %+v", c)
	}
	stands("renamed")

	without := changedRules(t, func(name, text string) string {
		if strings.HasSuffix(name, "temperature.rule") {
			return ""
		}
		return text
	})
	read("without", without)
	if _, there := claims(false)[rejected]; there {
		t.Error("without the rule: what was rejected is back")
	}
	read("again", own)
	stands("again")
}
