package parcel

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hatchlore/evidence/store"
)

// FuzzReadParcel: whatever the files of a folder hold, it is refused with an
// error or its claims are sound and of its own papers.
func FuzzReadParcel(f *testing.F) {
	const paper = `[{"paper":"a","hash":"h","file":"a.txt","text":[{"page":1,"text":"x"}]}]`
	const claim = `[{"id":"ab","paper":"a","page":1,"start":0,"end":1,"quote":"x","factor":"drying","bearing":"favours","category":"required"}]`
	for _, s := range [][3]string{{paper, claim, `[]`}, {`[]`, claim, `[]`}, {paper, `[{}]`, `[]`}, {`{`, ``, `null`},
		{paper, claim, `[{"thread":"ab@1","hash":"h","claim":"ab","made_on":"ab","verdict":"amended","at":"2026-03-01T00:00:00Z","latest":true}]`}} {
		f.Add(s[0], s[1], s[2], `[]`, `[]`)
	}
	const lots = `[{"lot":"A","added":"2026-03-01T00:00:00Z","entries":[{"eggs":5,"at":"2026-03-01T00:00:00Z"}]}]`
	const trials = `[{"plan":{"trial":"t","taxon":"T u"},"made":"2026-03-01T00:00:00Z","closed":"2026-03-02T00:00:00Z","looks":[{"dish":"a","day":"","eggs":5}]}]`
	f.Add(`[]`, `[]`, `[]`, lots, trials)
	f.Fuzz(func(t *testing.T, papers, claims, decisions, lots, trials string) {
		dir := t.TempDir()
		for name, text := range map[string]string{manifestFile: `{"form":2}`, lotsFile: lots, trialsFile: trials, experimentsFile: `[]`, papersFile: papers, claimsFile: claims, decisionsFile: decisions, aliasesFile: `[]`, quotesFile: `{}`} {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		p, err := readParcel(dir)
		if err != nil {
			return
		}
		for _, c := range p.Claims {
			if problems := c.Lint(); len(problems) > 0 {
				t.Errorf("an unsound claim was taken: %v", problems)
			}
		}
		s, err := store.Open(t.TempDir())
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		if _, err := s.Merge(t.Context(), p); err != nil {
			return
		}
		if faults, err := s.Faults(t.Context()); len(faults) > 0 || err != nil {
			t.Errorf("faults after a merge: %v %v", faults, err)
		}
	})
}

// A record that says nothing is refused with the file or kind that it is of;
// nothing of the folder is taken in.
func TestEmptyRecords(t *testing.T) {
	for name, want := range map[string]string{
		papersFile: "paper", claimsFile: "claim", decisionsFile: "decision", aliasesFile: "name", lotsFile: "lot", trialsFile: "trial", experimentsFile: "experiment",
	} {
		dir := t.TempDir()
		for _, f := range []string{papersFile, claimsFile, decisionsFile, aliasesFile, lotsFile, trialsFile, experimentsFile} {
			text := "[]"
			if f == name {
				text = "[{}]"
			}
			write(t, dir, f, text)
		}
		write(t, dir, manifestFile, `{"form":3}`)
		write(t, dir, quotesFile, `{}`)
		s, err := store.Open(t.TempDir())
		if err != nil {
			t.Fatal(err)
		}
		p, err := readParcel(dir)
		if err == nil {
			_, err = s.Merge(t.Context(), p)
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s with an empty record: %v, want words on a %s", name, err, want)
		}
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}
}

func TestSpoiltFiles(t *testing.T) {
	for text, want := range map[string]string{
		"":                    "hatchlore.json is not as 'hatchlore export' writes it: it breaks off",
		`{"form":`:            "hatchlore.json is not as 'hatchlore export' writes it: it breaks off",
		`{"form":3}}`:         "hatchlore.json is not as 'hatchlore export' writes it: it is spoilt at byte 11",
		`[]`:                  "hatchlore.json is not as 'hatchlore export' writes it: there is array at byte 1, where something else belongs",
		`{}`:                  "does not say in which form it was written",
		`{"form":99}`:         "was written by a newer version",
		`{"form":3,"x":true}`: papersFile + " cannot be read",
	} {
		dir := t.TempDir()
		write(t, dir, manifestFile, text)
		if _, err := readParcel(dir); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

func write(t *testing.T, dir, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}
