package store

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"hatchlore/evidence"
)

var noon = time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)

func decide(t *testing.T, s *Store, id string, d Decision) evidence.Claim {
	t.Helper()
	c, err := s.Decide(ctx, id, d)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func mustClaim(t *testing.T, s *Store, id string) evidence.Claim {
	t.Helper()
	c, err := s.Claim(ctx, id)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestDecideAndWithdraw(t *testing.T) {
	s := open(t, t.TempDir())
	p, claims := sample(t, 1)
	store(t, s, p, claims)
	id := claims[0].ID

	amended := claims[0]
	amended.Low, amended.High = num(28), num(30)
	amended.Page, amended.Quote = 99, "elsewhere" // an amendment stays on its words
	got := decide(t, s, id, Decision{Verdict: evidence.Amended, Amended: &amended, Reason: "the table says 28 to 30", At: noon})
	if *got.Low != 28 || got.Decision != evidence.Amended || got.Page != 1 || got.Quote != "30 days" || got.ID != id {
		t.Errorf("amended: %+v", got)
	}
	if c := mustClaim(t, s, id); *c.Low != 28 || c.Decision != evidence.Amended {
		t.Errorf("stored after the amendment: %+v", c)
	}
	decide(t, s, id, Decision{Verdict: evidence.Rejected, Reason: "adults", At: noon.Add(time.Hour)})
	if c := mustClaim(t, s, id); *c.Low != 30 || c.Decision != evidence.Rejected {
		t.Errorf("a rejection is of the machine's reading: %+v", c)
	}
	if cs, _ := s.Claims(ctx, Filter{}); len(cs) != 2 {
		t.Errorf("%d claims in force, want 2", len(cs))
	}
	if cs, _ := s.Claims(ctx, Filter{Rejected: true}); len(cs) != 3 {
		t.Errorf("%d claims with rejected ones, want 3", len(cs))
	}
	decide(t, s, id, Decision{Verdict: evidence.Undecided, Reason: "a slip"})
	if c := mustClaim(t, s, id); *c.Low != 30 || c.Decision != evidence.Undecided {
		t.Errorf("withdrawn: %+v", c)
	}
	h, err := s.History(ctx, id)
	if err != nil || len(h) != 3 {
		t.Fatalf("history %v %v", h, err)
	}
	if h[0].Verdict != evidence.Amended || *h[0].Amended.Low != 28 || *h[0].Reading.Low != 30 || h[0].Reason != "the table says 28 to 30" || !h[0].At.Equal(noon) || h[0].Latest || !h[2].Latest {
		t.Errorf("history: %+v", h)
	}
}

func TestDecideRefuses(t *testing.T) {
	s := open(t, t.TempDir())
	p, claims := sample(t, 1)
	store(t, s, p, claims)
	unsound := claims[0]
	unsound.Unit = "degF"
	for _, tt := range []struct {
		id   string
		d    Decision
		want string
	}{
		{"000000000000", Decision{Verdict: evidence.Accepted}, "no such claim"},
		{claims[0].ID, Decision{Verdict: "maybe"}, "unknown verdict"},
		{claims[0].ID, Decision{Verdict: evidence.Amended}, "needs the amended claim"},
		{claims[0].ID, Decision{Verdict: evidence.Accepted, Amended: &claims[0]}, "only an amendment"},
		{claims[0].ID, Decision{Verdict: evidence.Amended, Amended: &unsound}, "not a unit"},
		{claims[0].ID, Decision{Verdict: evidence.Undecided}, "nothing was decided"},
	} {
		if _, err := s.Decide(ctx, tt.id, tt.d); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%+v: error %v, want %q", tt.d, err, tt.want)
		}
	}
	if d, err := s.Decisions(ctx); len(d) > 0 || err != nil {
		t.Errorf("a refused decision was kept: %v %v", d, err)
	}
}

func TestAddClaim(t *testing.T) {
	s := open(t, t.TempDir())
	p, claims := sample(t, 1)
	store(t, s, p, claims)
	c := claim(t, p, 2, "drying for 14 days", evidence.Drying, 14)
	c.Bearing, c.Start, c.End, c.ID = evidence.Prevents, 0, 0, ""
	got, err := s.AddClaim(ctx, c, "the machine missed it", noon)
	if err != nil {
		t.Fatal(err)
	}
	if got.Rule != HandRule || got.Decision != evidence.Accepted || got.Start != strings.Index(textB, "drying for") {
		t.Errorf("added: %+v", got)
	}
	if _, err := s.AddClaim(ctx, c, "", noon); err == nil {
		t.Error("the same claim was added twice")
	}
	c.Quote = "words that are not there"
	if _, err := s.AddClaim(ctx, c, "", noon); err == nil || !strings.Contains(err.Error(), "not on the page") {
		t.Errorf("a quote that is not on the page: %v", err)
	}
	p.Rules = "2"
	store(t, s, p, claims)
	if c := mustClaim(t, s, got.ID); c.Rule != HandRule || c.Decision != evidence.Accepted {
		t.Errorf("after a new reading: %+v", c)
	}
	decide(t, s, got.ID, Decision{Verdict: evidence.Undecided})
	if _, err := s.Claim(ctx, got.ID); !errors.Is(err, ErrNoClaim) {
		t.Errorf("a withdrawn hand-written claim is still there: %v", err)
	}
}

// Each case decides on the claim "30 days", then stores a new reading.
func TestDecisionsOutliveReadings(t *testing.T) {
	shifted := "Methods More words were found here. Cysts of B. ficta lay at 4 °C for 30 days and hatched at 15 °C."
	amendment := func(c evidence.Claim) Decision {
		c.Low, c.High = num(28), num(28)
		return Decision{Verdict: evidence.Amended, Amended: &c}
	}
	verdict := func(v evidence.Verdict) func(evidence.Claim) Decision {
		return func(evidence.Claim) Decision { return Decision{Verdict: v} }
	}
	read := func(text, quote string, f evidence.Factor, low float64) func(*testing.T, Paper) (Paper, []evidence.Claim) {
		return func(t *testing.T, p Paper) (Paper, []evidence.Claim) {
			p.Pages[0] = page(1, text)
			if quote == "" {
				return p, nil
			}
			return p, []evidence.Claim{claim(t, p, 1, quote, f, low)}
		}
	}
	for _, tt := range []struct {
		name   string
		decide func(evidence.Claim) Decision
		again  func(*testing.T, Paper) (Paper, []evidence.Claim)
		want   evidence.Verdict
		low    float64
		lost   int
		claims int // in the table, rejected ones too
	}{
		{"accepted, same claim elsewhere on the page", verdict(evidence.Accepted), read(shifted, "30 days", evidence.ColdLength, 30), evidence.Accepted, 30, 0, 1},
		{"rejected, same claim elsewhere on the page", verdict(evidence.Rejected), read(shifted, "30 days", evidence.ColdLength, 30), evidence.Rejected, 30, 0, 1},
		{"amended, same claim elsewhere on the page", amendment, read(shifted, "30 days", evidence.ColdLength, 30), evidence.Amended, 28, 0, 1},
		{"amended, machine now reads another value", amendment, read(textA, "30 days", evidence.ColdLength, 3), evidence.Amended, 28, 0, 1},
		{"amended, machine now agrees", amendment, read(textA, "30 days", evidence.ColdLength, 28), evidence.Amended, 28, 0, 1},
		{"accepted, machine now makes no claim", verdict(evidence.Accepted), read(shifted, "", "", 0), evidence.Accepted, 30, 0, 1},
		{"amended, machine now makes no claim", amendment, read(shifted, "", "", 0), evidence.Amended, 28, 0, 1},
		{"accepted, machine now reads another value", verdict(evidence.Accepted), read(textA, "30 days", evidence.ColdLength, 3), evidence.Accepted, 30, 0, 2},
		{"rejected, machine now reads another value", verdict(evidence.Rejected), read(textA, "30 days", evidence.ColdLength, 3), "", 0, 0, 1},
		{"rejected, machine now makes no claim", verdict(evidence.Rejected), read(textA, "", "", 0), "", 0, 0, 0},
		{"accepted, the words are gone", verdict(evidence.Accepted), read("Methods Nothing of it.", "", "", 0), "", 0, 1, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := open(t, t.TempDir())
			p, claims := sample(t, 1)
			claims = claims[:1]
			store(t, s, p, claims)
			decide(t, s, claims[0].ID, tt.decide(claims[0]))
			p2, claims2 := tt.again(t, p)
			out := store(t, s, p2, claims2)
			if len(out.Lost) != tt.lost {
				t.Errorf("lost %v, want %d", out.Lost, tt.lost)
			}
			if lost, err := s.Lost(ctx); len(lost) != tt.lost || err != nil {
				t.Errorf("lost %v %v, want %d", lost, err, tt.lost)
			}
			all, err := s.Claims(ctx, Filter{Rejected: true})
			if err != nil || len(all) != tt.claims {
				t.Errorf("claims %+v %v, want %d", all, err, tt.claims)
			}
			var decided []evidence.Claim
			for _, c := range all {
				if c.Decision != evidence.Undecided {
					decided = append(decided, c)
				}
				runes := []rune(p2.Pages[c.Page-1].Text)
				if string(runes[c.Start:c.End]) != c.Quote {
					t.Errorf("the span of %+v is not its quote", c)
				}
			}
			if tt.want == "" {
				if len(decided) > 0 {
					t.Errorf("decided on: %+v", decided)
				}
				return
			}
			if len(decided) != 1 || decided[0].Decision != tt.want || *decided[0].Low != tt.low {
				t.Fatalf("decided on %+v, want one %s with %v", decided, tt.want, tt.low)
			}
			// The id from before still leads to it.
			if c := mustClaim(t, s, claims[0].ID); c.ID != decided[0].ID && tt.claims == 1 {
				t.Errorf("the old id leads to %+v", c)
			}
			if faults, err := s.Faults(ctx); len(faults) > 0 || err != nil {
				t.Errorf("faults %v %v", faults, err)
			}
		})
	}
}

// Of several values in the same words an amendment takes none for its own.
func TestAmendmentOfAList(t *testing.T) {
	s := open(t, t.TempDir())
	p, _ := sample(t, 1)
	list := func(values ...float64) (out []evidence.Claim) {
		for _, v := range values {
			out = append(out, claim(t, p, 1, "4 °C for 30 days", evidence.ColdLength, v))
		}
		return out
	}
	claims := list(30, 40, 50)
	store(t, s, p, claims)
	amended := claims[0]
	amended.Low, amended.High = num(28), num(28)
	decide(t, s, claims[0].ID, Decision{Verdict: evidence.Amended, Amended: &amended})
	p.Rules = "2"
	store(t, s, p, list(40, 50))
	got, err := s.Claims(ctx, Filter{})
	var values []float64
	for _, c := range got {
		values = append(values, *c.Low)
	}
	slices.Sort(values)
	if want := []float64{28, 40, 50}; !slices.Equal(values, want) || err != nil {
		t.Errorf("values %v %v, want %v", values, err, want)
	}
}

func TestDecisionsOutliveRemoval(t *testing.T) {
	s := open(t, t.TempDir())
	p, claims := sample(t, 1)
	store(t, s, p, claims)
	decide(t, s, claims[0].ID, Decision{Verdict: evidence.Rejected})
	decide(t, s, claims[1].ID, Decision{Verdict: evidence.Accepted})
	if err := s.Remove(ctx, p.Key); err != nil {
		t.Fatal(err)
	}
	if lost, err := s.Lost(ctx); len(lost) != 1 || err != nil {
		t.Errorf("lost %v %v, want the accepted one", lost, err)
	}
	p.Key = "other2000"
	store(t, s, p, claims)
	if c := mustClaim(t, s, claims[0].ID); c.Decision != evidence.Rejected || c.Paper != "other2000" {
		t.Errorf("after it came again: %+v", c)
	}
	if c := mustClaim(t, s, claims[1].ID); c.Decision != evidence.Accepted {
		t.Errorf("after it came again: %+v", c)
	}
}

// A clock that is set back, or far forward, does not change which decision
// stands: the one made last.
func TestDecisionsWhenTheClockJumps(t *testing.T) {
	s := open(t, t.TempDir())
	p, claims := sample(t, 1)
	store(t, s, p, claims)
	now := time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)
	for _, d := range []Decision{
		{Verdict: evidence.Accepted, At: now},
		{Verdict: evidence.Rejected, At: now.AddDate(40, 0, 0)},
		{Verdict: evidence.Accepted, At: now.AddDate(-30, 0, 0), Reason: "the last"},
	} {
		if _, err := s.Decide(ctx, claims[0].ID, d); err != nil {
			t.Fatal(err)
		}
	}
	c, err := s.Claim(ctx, claims[0].ID)
	if err != nil || c.Decision != evidence.Accepted {
		t.Errorf("the claim is %q, %v", c.Decision, err)
	}
	h, err := s.History(ctx, claims[0].ID)
	if err != nil || len(h) != 3 || !h[2].Latest || h[2].Reason != "the last" {
		t.Errorf("history %+v, %v", h, err)
	}
	// A new reading at another hour keeps it.
	p.Rules, p.Ingested = "newer", now.AddDate(-50, 0, 0)
	store(t, s, p, claims)
	if c, err = s.Claim(ctx, claims[0].ID); err != nil || c.Decision != evidence.Accepted {
		t.Errorf("after a new reading the claim is %q, %v", c.Decision, err)
	}
}
