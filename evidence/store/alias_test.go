package store

import (
	"errors"
	"strings"
	"testing"

	"hatchlore/evidence"

	"github.com/google/go-cmp/cmp"
)

func TestAliases(t *testing.T) {
	s := open(t, t.TempDir())
	for _, a := range []Alias{
		{Old: "Fictocaris  umbrosa", New: "Umbrocaris umbrosa", Reason: "moved", At: noon},
		{Old: "Aculina parva", New: "Aculina minor", At: noon},
		{Old: "fictocaris UMBROSA", New: "Umbrocaris nigra", Reason: "moved again", At: noon},
	} {
		if err := s.SetAlias(ctx, a); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.SetAlias(ctx, Alias{Old: " ", New: "x"}); err == nil {
		t.Error("an alias of nothing was taken")
	}
	got, err := s.Aliases(ctx)
	want := []Alias{{"Aculina parva", "Aculina minor", "", noon}, {"fictocaris UMBROSA", "Umbrocaris nigra", "moved again", noon}}
	if d := cmp.Diff(want, got); d != "" || err != nil {
		t.Errorf("%v %s", err, d)
	}
	for _, want := range []bool{true, false} {
		if known, err := s.RemoveAlias(ctx, "ACULINA parva"); known != want || err != nil {
			t.Errorf("removed %v %v, want %v", known, err, want)
		}
	}
}

func TestClaimID(t *testing.T) {
	s := open(t, t.TempDir())
	p, claims := sample(t, 1)
	claims = claims[:3]
	for i, id := range []string{"abcdef000001", "abcdef900002", "123400000003"} {
		claims[i].ID = id
	}
	store(t, s, p, claims)
	for _, tt := range []struct{ asked, want, err string }{
		{"1234", "123400000003", ""},
		{"123", "", "give 4 letters"},
		{"ABCDEF0", "abcdef000001", ""},
		{"abcdef900002", "abcdef900002", ""},
		{"abcd", "", "abcdef000001 or abcdef900002"},
		{"ffff", "", "no such claim"},
		{"", "", "no such claim"},
		{"12%", "", "no such claim"},
	} {
		got, err := s.ClaimID(ctx, tt.asked)
		if got != tt.want || (err == nil) != (tt.err == "") || err != nil && !strings.Contains(err.Error(), tt.err) {
			t.Errorf("%q: %q %v, want %q %q", tt.asked, got, err, tt.want, tt.err)
		}
	}
	if n, err := s.IDLength(ctx); n != 7 || err != nil {
		t.Errorf("%d letters tell the claims apart (%v), want 7", n, err)
	}
}

// A book that is not in the library: its claims stand on the words typed, and
// the same words make the same claim in whatever order they come.
func TestAddFromSource(t *testing.T) {
	book := Paper{Key: "alder1971", Source: "Alder (1971): Pools. Fen Press.", Title: "Pools"}
	say := func(page int, quote string, days float64) evidence.Claim {
		return evidence.Claim{Page: page, Quote: quote, Taxon: "Branchinella ficta", Factor: evidence.Drying, Bearing: evidence.Favours,
			Low: num(days), Unit: "d", Printed: quote}
	}
	one, two := say(88, "30 days dry", 30), say(88, "or 40 days", 40)
	ids := func(s *Store, cs ...evidence.Claim) map[string]string {
		out := map[string]string{}
		for _, c := range cs {
			got, err := s.AddFromSource(ctx, book, c, "my copy", noon)
			if err != nil {
				t.Fatal(err)
			}
			page, err := s.Page(ctx, got.Paper, got.Page)
			if err != nil {
				t.Fatal(err)
			}
			if r := []rune(page.Text); string(r[got.Start:got.End]) != c.Quote || got.Decision != evidence.Accepted {
				t.Errorf("%q stands at %d to %d of %q, %s", c.Quote, got.Start, got.End, page.Text, got.Decision)
			}
			out[c.Quote] = got.ID
		}
		return out
	}
	a, b := open(t, t.TempDir()), open(t, t.TempDir())
	first, second := ids(a, one, two), ids(b, two, one)
	if d := cmp.Diff(first, second); d != "" {
		t.Error(d)
	}
	if _, err := a.AddFromSource(ctx, book, one, "", noon); err == nil || !strings.Contains(err.Error(), "says this already") {
		t.Errorf("added twice: %v", err)
	}
	// Taken back and added again: one thread, one claim.
	id := first["30 days dry"]
	decide(t, a, id, Decision{Verdict: evidence.Undecided})
	if _, err := a.Claim(ctx, id); !errors.Is(err, ErrNoClaim) {
		t.Errorf("taken back: %v", err)
	}
	if again := ids(a, one); again["30 days dry"] != id {
		t.Errorf("added again as %v", again)
	}
	h, err := a.History(ctx, id)
	if len(h) != 3 || err != nil || h[0].Latest || !h[2].Latest {
		t.Errorf("history %+v %v", h, err)
	}
	if faults, err := a.Faults(ctx); len(faults) > 0 || err != nil {
		t.Errorf("faults %v %v", faults, err)
	}
	for _, bad := range []evidence.Claim{say(0, "x", 1), say(1, " ", 1), {Page: 1, Quote: "x", Factor: "no-factor"}} {
		if _, err := a.AddFromSource(ctx, book, bad, "", noon); err == nil {
			t.Errorf("taken: %+v", bad)
		}
	}
}

// A source that is known by its citation goes with the last claim typed from it, and
// comes back with its history.
func TestEmptiedSource(t *testing.T) {
	s := open(t, t.TempDir())
	book := Paper{Key: "alder1971", Source: "Alder (1971): Pools. Fen Press.", Title: "Pools"}
	add := func(quote string) string {
		t.Helper()
		c, err := s.AddFromSource(ctx, book, evidence.Claim{Page: 88, Quote: quote, Taxon: "Branchinella ficta", Factor: evidence.Drying,
			Bearing: evidence.Favours, Category: "required"}, "", noon)
		if err != nil {
			t.Fatal(err)
		}
		return c.ID
	}
	papers := func() (keys []string) {
		for l, err := range s.Papers(ctx) {
			if err != nil {
				t.Fatal(err)
			}
			keys = append(keys, l.Paper)
		}
		return keys
	}
	one, two := add("they must dry"), add("dry they must be")
	decide(t, s, one, Decision{Verdict: evidence.Undecided})
	if got := papers(); len(got) != 1 {
		t.Errorf("with a claim left: %v", got)
	}
	decide(t, s, two, Decision{Verdict: evidence.Undecided})
	if got := papers(); len(got) != 0 {
		t.Errorf("emptied: %v", got)
	}
	if again := add("they must dry"); again != one || len(papers()) != 1 {
		t.Errorf("typed again as %s of %v", again, papers())
	}
	if h, err := s.History(ctx, one); len(h) != 3 || err != nil {
		t.Errorf("history %+v %v", h, err)
	}
	// A parcel with the emptied source, as older programs made them, brings none.
	p, err := s.Parcel(ctx)
	if err != nil {
		t.Fatal(err)
	}
	p.Claims, p.Decisions = nil, nil
	other := open(t, t.TempDir())
	if m, err := other.Merge(ctx, p); m.Any() || err != nil {
		t.Errorf("%+v %v", m, err)
	}
	if n, err := other.Counts(ctx); n.Papers != 0 || err != nil {
		t.Errorf("%+v %v", n, err)
	}
	if faults, err := s.Faults(ctx); len(faults) > 0 || err != nil {
		t.Errorf("faults %v %v", faults, err)
	}
}
