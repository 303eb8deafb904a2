package store

import (
	"fmt"
	"testing"
	"time"

	"hatchlore/evidence"

	"github.com/google/go-cmp/cmp"
)

func parcelOf(t *testing.T, s *Store) Parcel {
	t.Helper()
	p, err := s.Parcel(ctx)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func merged(t *testing.T, s *Store, p Parcel) Merged {
	t.Helper()
	m, err := s.Merge(ctx, p)
	if err != nil {
		t.Fatal(err)
	}
	if faults, err := s.Faults(ctx); len(faults) > 0 || err != nil {
		t.Errorf("faults %v %v", faults, err)
	}
	return m
}

// contents is a parcel without what differs between libraries by nature: the
// numbers of decisions, and what the machine keeps of its own reading.
func contents(p Parcel) string {
	out := ""
	for _, x := range p.Papers {
		out += fmt.Sprintln(x.Key, x.Hash, x.Source, x.Title, x.Authors, x.Year, x.DOI, x.Mended, len(x.Pages))
	}
	for _, c := range p.Claims {
		out += fmt.Sprintln(c.ID, c.Hash, c.Paper, c.Source, c.Page, c.Start, c.End, c.Taxon, c.Factor, c.Bearing, bound(c.Low), bound(c.High), c.Decision, c.Cited, c.Entries, c.Before, "|", c.Behind)
	}
	for _, d := range p.Decisions {
		out += fmt.Sprintln(d.Thread, d.Hash, d.Claim, d.Latest, d.print())
	}
	return out + fmt.Sprintln(p.Aliases)
}

func bound(v *float64) string {
	if v == nil {
		return "open"
	}
	return fmt.Sprint(*v)
}

// keeper is a library with one paper read, one claim of each verdict, a claim
// by hand on a page, one from a book, and an alias.
func keeper(t *testing.T) *Store {
	t.Helper()
	s := open(t, t.TempDir())
	p, claims := sample(t, 1)
	claims[2] = echo(claims[2])
	store(t, s, p, claims)
	amended := claims[0]
	amended.Low = num(28)
	decide(t, s, claims[0].ID, Decision{Verdict: evidence.Accepted, Reason: "seen", At: noon})
	decide(t, s, claims[0].ID, Decision{Verdict: evidence.Amended, Amended: &amended, Reason: "28", At: noon.Add(time.Hour)})
	decide(t, s, claims[1].ID, Decision{Verdict: evidence.Rejected, Reason: "adults", At: noon})
	hand := claim(t, p, 2, "drying for 14 days", evidence.Drying, 14)
	hand.ID = ""
	if _, err := s.AddClaim(ctx, hand, "missed", noon); err != nil {
		t.Fatal(err)
	}
	typed(t, s, "one", 88, noon)
	if err := s.SetAlias(ctx, Alias{Old: "Old name", New: "New name", At: noon}); err != nil {
		t.Fatal(err)
	}
	return s
}

// echo is c as a finding of somebody else's.
func echo(c evidence.Claim) evidence.Claim {
	c.Secondhand, c.Cited, c.Entries = true, "(Alder 1960)", evidence.Entries{{Place: 3, Printed: "Alder, A. (1960). Wet mud."}}
	return c
}

// typed adds a claim from a book with the given words.
func typed(t *testing.T, s *Store, words string, page int, at time.Time) evidence.Claim {
	t.Helper()
	c, err := s.AddFromSource(ctx, Paper{Key: "alder1971", Source: "Alder (1971): Pools.", Title: "Pools"},
		evidence.Claim{Page: page, Quote: words, Taxon: "Branchinella ficta", Factor: evidence.Drying, Bearing: evidence.Favours, Low: num(3), Unit: "d", Printed: words}, "my copy", at)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestParcelIntoAnEmptyLibrary(t *testing.T) {
	a, b := keeper(t), open(t, t.TempDir())
	p := parcelOf(t, a)
	m := merged(t, b, p)
	if m.Papers != 2 || m.Claims != len(p.Claims) || m.Decisions != len(p.Decisions) || m.Aliases != 1 || m.Left != 0 {
		t.Errorf("%+v of %d claims and %d decisions", m, len(p.Claims), len(p.Decisions))
	}
	if d := cmp.Diff(contents(p), contents(parcelOf(t, b))); d != "" {
		t.Error(d)
	}
	for range 2 {
		if m := merged(t, b, p); m.Any() {
			t.Errorf("the second time added %+v", m)
		}
	}
	if m := merged(t, a, parcelOf(t, b)); m.Any() || m.Left != 0 {
		t.Errorf("back again added %+v", m)
	}
	// What stands around a quote came along.
	c := p.Claims[len(p.Claims)-1]
	before, behind, err := b.Context(ctx, c.Claim, contextLength)
	if before != c.Before || behind != c.Behind || before+behind == "" || err != nil {
		t.Errorf("%q %q %v around %q, want %q %q", before, behind, err, c.Quote, c.Before, c.Behind)
	}
	// The file comes: its own reading takes the place of the other's, and the
	// decisions stand.
	paper, claims := sample(t, 1)
	claims[2] = echo(claims[2])
	if got := store(t, b, paper, claims); got.Change != Replaced || len(got.Lost) > 0 {
		t.Errorf("%+v", got)
	}
	if d := cmp.Diff(contents(p), contents(parcelOf(t, b))); d != "" {
		t.Error(d)
	}
}

// A claim that came from a library of an older form learns which entry it cites
// when the same claim comes again, and nothing else happens.
func TestMergeBringsEntries(t *testing.T) {
	a, b := keeper(t), open(t, t.TempDir())
	p := parcelOf(t, a)
	old := parcelOf(t, a)
	for i := range old.Claims {
		old.Claims[i].Entries = nil
	}
	merged(t, b, old)
	if m := merged(t, b, p); m.Any() {
		t.Errorf("the second time added %+v", m)
	}
	if d := cmp.Diff(contents(p), contents(parcelOf(t, b))); d != "" {
		t.Error(d)
	}
}

// Two keepers with the same paper decide differently, type from the same book
// in another order, and merge: both end with the same.
func TestMergeOfTwoKeepers(t *testing.T) {
	a, b := keeper(t), open(t, t.TempDir())
	p, claims := sample(t, 1)
	p.Source = "elsewhere/renamed.txt"
	store(t, b, p, claims)
	decide(t, b, claims[0].ID, Decision{Verdict: evidence.Rejected, Reason: "not so", At: noon.Add(2 * time.Hour)})
	decide(t, b, claims[1].ID, Decision{Verdict: evidence.Accepted, Reason: "it is so", At: noon.Add(-time.Hour)})
	typed(t, b, "another", 88, noon.Add(time.Minute))
	typed(t, b, "one", 88, noon)
	if err := b.SetAlias(ctx, Alias{Old: "old NAME", New: "Third name", At: noon.Add(time.Hour)}); err != nil {
		t.Fatal(err)
	}
	fromA, fromB := parcelOf(t, a), parcelOf(t, b)
	ma, mb := merged(t, a, fromB), merged(t, b, fromA)
	if ma.Left+mb.Left != 0 || len(ma.Clashes) != 1 || len(mb.Clashes) != 1 {
		t.Errorf("%+v %+v", ma, mb)
	}
	for name, s := range map[string]*Store{"a": a, "b": b} {
		if c := mustClaim(t, s, claims[0].ID); c.Decision != evidence.Rejected || *c.Low != 30 {
			t.Errorf("%s: the later decision is not in force: %s %v", name, c.Decision, *c.Low)
		}
		if c := mustClaim(t, s, claims[1].ID); c.Decision != evidence.Rejected {
			t.Errorf("%s: the earlier decision is in force: %s", name, c.Decision)
		}
		h, err := s.History(ctx, claims[0].ID)
		if len(h) != 3 || err != nil || h[2].Reason != "not so" || !h[2].Latest {
			t.Errorf("%s: history %+v %v", name, h, err)
		}
		var quotes []string
		found, err := s.Claims(ctx, Filter{Paper: "alder1971"})
		for _, c := range found {
			quotes = append(quotes, c.Quote)
		}
		if len(quotes) != 2 || err != nil {
			t.Errorf("%s: from the book %v %v", name, quotes, err)
		}
		if as, err := s.Aliases(ctx); len(as) != 1 || as[0].New != "Third name" || err != nil {
			t.Errorf("%s: aliases %v %v", name, as, err)
		}
		if hand, err := s.Claims(ctx, Filter{Paper: p.Key, Page: 2}); err != nil || !hasRule(hand, HandRule) {
			t.Errorf("%s: the claim by hand is missing: %v", name, err)
		}
	}
	if ma, mb := merged(t, a, parcelOf(t, b)), merged(t, b, parcelOf(t, a)); ma.Any() || mb.Any() {
		t.Errorf("once more added %+v and %+v", ma, mb)
	}
}

func hasRule(cs []evidence.Claim, rule string) bool {
	for _, c := range cs {
		if c.Rule == rule {
			return true
		}
	}
	return false
}

// A paper that this library reads by other rules keeps its own reading; what
// was decided there finds its claim by the words.
func TestMergeKeepsOwnReading(t *testing.T) {
	a, b := keeper(t), open(t, t.TempDir())
	p, claims := sample(t, 1)
	claims = claims[:1]
	claims[0].Low = num(31)
	claims[0].ID = claims[0].MakeID(p.Hash)
	store(t, b, p, claims)
	m := merged(t, b, parcelOf(t, a))
	if m.Left == 0 {
		t.Errorf("the other reading is not spoken of: %+v", m)
	}
	if c := mustClaim(t, b, claims[0].ID); c.Decision != evidence.Amended || *c.Low != 28 {
		t.Errorf("the amendment did not find its claim: %s %v", c.Decision, *c.Low)
	}
	all, err := b.Claims(ctx, Filter{Paper: p.Key, Rejected: true})
	if err != nil || len(all) != 2 { // its own, amended, and the one by hand
		t.Errorf("%d claims %v", len(all), err)
	}
}

// A parcel that cannot be taken in whole leaves nothing behind.
func TestMergeIsWholeOrNot(t *testing.T) {
	a, b := keeper(t), open(t, t.TempDir())
	p := parcelOf(t, a)
	p.Decisions[len(p.Decisions)-1].Verdict = "maybe"
	if _, err := b.Merge(ctx, p); err == nil {
		t.Fatal("an unknown verdict was taken")
	}
	if c, err := b.Counts(ctx); c != (Counts{}) || err != nil {
		t.Errorf("left behind: %+v %v", c, err)
	}
	for name, spoil := range map[string]func(*Parcel){
		"a paper without hash": func(p *Parcel) { p.Papers[0].Hash = "" },
		"a claim of no paper":  func(p *Parcel) { p.Claims[0].Hash = "none" },
		"a claim without id":   func(p *Parcel) { p.Claims[2].ID = "" },
	} {
		p := parcelOf(t, a)
		spoil(&p)
		if _, err := b.Merge(ctx, p); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
}

// Decisions about papers that neither library has are kept.
func TestMergeKeepsLostDecisions(t *testing.T) {
	a, b := keeper(t), open(t, t.TempDir())
	if err := a.Remove(ctx, "ficta1901"); err != nil {
		t.Fatal(err)
	}
	p := parcelOf(t, a)
	merged(t, b, p)
	if d := cmp.Diff(contents(p), contents(parcelOf(t, b))); d != "" {
		t.Error(d)
	}
	paper, claims := sample(t, 1)
	store(t, b, paper, claims)
	if c := mustClaim(t, b, claims[0].ID); c.Decision != evidence.Amended {
		t.Errorf("the decision did not wait for its paper: %s", c.Decision)
	}
}
