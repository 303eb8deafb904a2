package rule

import (
	"fmt"
	"math"
	"os"
	"sort"
	"strings"
	"testing"

	"hatchlore/corpus-sample/surroundings"
	"hatchlore/evidence"
	"hatchlore/ingest"
)

// passage is one labelled passage.
type passage struct {
	ID, Title, Source, Text, Lang string
	Claims                        []label
}

type label struct {
	Taxon, Factor, Bearing, Category string
	Low, High                        *float64
	Secondhand                       bool
}

// document makes a document of a title and paragraphs.
func document(title, text string) *ingest.Document {
	page := ingest.Page{Number: 1, How: ingest.ByText, Text: title + "\n\n" + text + "\n"}
	page.Blocks = append(page.Blocks, ingest.Block{Kind: ingest.Title, End: len(title)})
	at := len(title) + 2
	for _, para := range strings.Split(text, "\n\n") {
		page.Blocks = append(page.Blocks, ingest.Block{Kind: ingest.Paragraph, Start: at, End: at + len(para)})
		at += len(para) + 2
	}
	return &ingest.Document{Source: "test.txt", Format: "txt", Title: title, Pages: []ingest.Page{page}}
}

// sameSaying are categories that say the same thing, as the scorer has them.
var sameSaying = map[string]string{"required": "need", "helpful": "help", "not-required": "no-need", "harmful": "harm", "light-required": "light"}

func valueAgrees(g label, c evidence.Claim) bool {
	if g.Factor != string(c.Factor) {
		return false
	}
	if g.Low != nil || g.High != nil {
		return nearly(g.Low, c.Low) && nearly(g.High, c.High)
	}
	if c.Low != nil || c.High != nil {
		return false
	}
	say := func(s string) string {
		if w, ok := sameSaying[s]; ok {
			return w
		}
		return s
	}
	return g.Category == "" || say(g.Category) == say(c.Category)
}

func nearly(a, b *float64) bool {
	if a == nil || b == nil {
		return a == nil && b == nil
	}
	return math.Abs(*a-*b) <= max(0.06, 0.01*max(math.Abs(*a), math.Abs(*b)))
}

func bearingAgrees(g label, c evidence.Claim) bool {
	return valueAgrees(g, c) && g.Bearing == string(c.Bearing)
}

func allAgrees(g label, c evidence.Claim) bool {
	norm := func(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }
	return bearingAgrees(g, c) && norm(g.Taxon) == norm(c.Taxon)
}

// pair matches labels and claims one to one, as many as can be; owner gives
// the label of each claim or -1.
func pair(gold []label, claims []evidence.Claim, agrees func(label, evidence.Claim) bool) (owner []int, n int) {
	owner = make([]int, len(claims))
	for i := range owner {
		owner[i] = -1
	}
	var grab func(i int, seen []bool) bool
	grab = func(i int, seen []bool) bool {
		for j := range claims {
			if seen[j] || !agrees(gold[i], claims[j]) {
				continue
			}
			seen[j] = true
			if owner[j] < 0 || grab(owner[j], seen) {
				owner[j] = i
				return true
			}
		}
		return false
	}
	for i := range gold {
		if grab(i, make([]bool, len(claims))) {
			n++
		}
	}
	return owner, n
}

// tally counts agreement at one level.
type tally struct{ right, gold, claimed int }

func (a tally) f1() float64 {
	if a.gold+a.claimed == 0 {
		return 0
	}
	return 2 * float64(a.right) / float64(a.gold+a.claimed)
}

func (a tally) String() string {
	return fmt.Sprintf("F1 %.3f  precision %.3f  recall %.3f  (%d right, %d gold, %d claimed)", a.f1(),
		float64(a.right)/math.Max(1, float64(a.claimed)), float64(a.right)/math.Max(1, float64(a.gold)), a.right, a.gold, a.claimed)
}

var levels = []struct {
	name   string
	agrees func(label, evidence.Claim) bool
}{{"value", valueAgrees}, {"bearing", bearingAgrees}, {"full", allAgrees}}

// marks scores the set on passages and logs every miss.
func marks(t *testing.T, ps []passage, verbose bool) map[string]tally {
	t.Helper()
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]tally{}
	bins := map[int]*tally{}
	for _, p := range ps {
		title := p.Title
		if title == "" {
			title = p.Source
		}
		var claims []evidence.Claim
		why := set.MatchExplained(document(title, p.Text))
		for _, e := range why {
			if !e.Claim.Implied {
				claims = append(claims, e.Claim)
			}
		}
		for _, l := range levels {
			owner, n := pair(p.Claims, claims, l.agrees)
			for _, key := range []string{l.name, l.name + " " + p.Lang} {
				a := got[key]
				a.right, a.gold, a.claimed = a.right+n, a.gold+len(p.Claims), a.claimed+len(claims)
				got[key] = a
			}
			if l.name == "full" {
				reliability(bins, claims, owner)
				if verbose {
					report(t, p, claims, owner)
				}
			}
		}
	}
	var keys []string
	for k := range got {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	for _, k := range keys {
		t.Logf("%-12s %s", k, got[k])
	}
	logReliability(t, bins)
	return got
}

func report(t *testing.T, p passage, claims []evidence.Claim, owner []int) {
	t.Helper()
	found := map[int]bool{}
	for _, i := range owner {
		found[i] = true
	}
	for i, g := range p.Claims {
		if !found[i] {
			t.Logf("missed %s %s %s %s %s [%s]", p.ID, g.Factor, g.Bearing, interval(g.Low, g.High), g.Category, g.Taxon)
		}
	}
	for j, c := range claims {
		if owner[j] < 0 {
			t.Logf("wrong  %s %s %s %s %s [%s] by %s %.2f | %.90s", p.ID, c.Factor, c.Bearing, interval(c.Low, c.High), c.Category, c.Taxon, c.Rule, c.Score, c.Quote)
		}
	}
}

func interval(low, high *float64) string {
	f := func(v *float64) string {
		if v == nil {
			return ""
		}
		return fmt.Sprintf("%.4g", *v)
	}
	if low == nil && high == nil {
		return "-"
	}
	if low != nil && high != nil && *low == *high {
		return f(low)
	}
	return f(low) + ".." + f(high)
}

// TestDev scores the set on the labelled passages for learning.
func TestDev(t *testing.T) {
	ps := surroundings.Lines[passage](t, surroundings.Shared(t, "passages-dev.jsonl"))
	got := marks(t, ps, testing.Verbose())
	for level, least := range map[string]float64{"value": 0.96, "bearing": 0.96, "full": 0.95} {
		if got[level].f1() < least {
			t.Errorf("%s F1 %.3f is under %.2f", level, got[level].f1(), least)
		}
	}
}

// TestFree scores the set on the same facts in freer words.
func TestFree(t *testing.T) {
	got := marks(t, surroundings.Lines[passage](t, surroundings.Shared(t, "passages-free.jsonl")), os.Getenv("HATCHLORE_SHOW_FREE") != "")
	if got["value"].f1() < 0.88 {
		t.Errorf("value F1 %.3f is under .88", got["value"].f1())
	}
}
