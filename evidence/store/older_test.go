package store

import (
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/store/disk"
)

// older makes the library that stands as SQL in testdata, as a program of an
// older form wrote it: a paper of two pages, three claims, of which one was
// amended and one rejected, and from the second form on an alias, from the
// third a lot of eggs, from the fourth a word on an experiment, from the fifth
// where its file was and a claim that cites another.
func older(t *testing.T, form int) string {
	t.Helper()
	text, err := os.ReadFile(fmt.Sprintf("testdata/form-%d.sql", form))
	if err != nil {
		t.Fatalf("a new migration needs a library of the form before it: %v", err)
	}
	dir := t.TempDir()
	db, err := sql.Open("sqlite", filepath.Join(dir, FileName))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec("PRAGMA journal_mode = wal;" + string(text)); err != nil {
		t.Fatal(err)
	}
	return dir
}

// A library of any older form opens, with all that was in it, and works.
func TestOlderLibraries(t *testing.T) {
	forms, err := disk.Forms()
	if err != nil {
		t.Fatal(err)
	}
	for form := 1; form < forms; form++ {
		t.Run(fmt.Sprint(form), func(t *testing.T) {
			s := open(t, older(t, form))
			if faults, err := s.Faults(ctx); len(faults) > 0 || err != nil {
				t.Errorf("faults %v %v", faults, err)
			}
			p, claims := sample(t, 1)
			got, err := s.Paper(ctx, p.Key)
			if err != nil || len(got.Pages) != len(p.Pages) || got.Pages[0].Text != p.Pages[0].Text {
				t.Errorf("the paper reads %+v, %v", got, err)
			}
			amended, err := s.Claim(ctx, claims[0].ID)
			if err != nil || amended.Decision != evidence.Amended || *amended.Low != 28 || *amended.High != 31 {
				t.Errorf("the amended claim is %+v, %v", amended, err)
			}
			rejected, err := s.History(ctx, claims[1].ID)
			if err != nil || len(rejected) != 1 || rejected[0].Verdict != evidence.Rejected || rejected[0].Reason != "another pool" {
				t.Errorf("the decision is %+v, %v", rejected, err)
			}
			if aliases, err := s.Aliases(ctx); err != nil || (len(aliases) == 1) != (form >= 2) {
				t.Errorf("aliases %+v, %v", aliases, err)
			}
			if lots, err := s.Lots(ctx); err != nil || (len(lots) == 1) != (form >= 3) || form >= 3 && lots[0].Left != 240 {
				t.Errorf("lots %+v, %v", lots, err)
			}
			if said, err := s.Experiments(ctx); err != nil || (len(said) == 1) != (form >= 4) {
				t.Errorf("experiments %+v, %v", said, err)
			}
			cites, err := s.Claim(ctx, claims[2].ID)
			if err != nil || cites.Secondhand != (form >= 5) || len(cites.Entries) > 0 {
				t.Errorf("the claim of another is %+v, %v", cites, err)
			}
			// A new reading keeps what was decided, and finds the entry cited.
			p.Rules = "newer"
			claims[2].Secondhand, claims[2].Cited = true, "(Alder 1960)"
			claims[2].Entries = evidence.Entries{{Place: 3, Printed: "Alder, A. (1960). Wet mud."}}
			if _, err := s.Put(ctx, p, claims); err != nil {
				t.Fatal(err)
			}
			if again, err := s.Claim(ctx, claims[0].ID); err != nil || again.Decision != evidence.Amended || *again.Low != 28 {
				t.Errorf("after a new reading the amended claim is %+v, %v", again, err)
			}
			if again, err := s.Claim(ctx, claims[2].ID); err != nil || len(again.Entries) != 1 || again.Entries[0] != claims[2].Entries[0] {
				t.Errorf("after a new reading the claim of another is %+v, %v", again, err)
			}
		})
	}
}
