package quantity

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"hatchlore/corpus-sample/surroundings"
)

// Units that the labelled set scores, and the number words that it knows.
var (
	scoredUnits = strings.Fields("degC degF s min h d wk mo yr % permille ppt psu ppm mg/L g/L uS/cm mS/cm mm um")
	scoredWords = strings.Fields("zero one two three four five six seven eight nine ten eleven twelve")
	plainNumber = regexp.MustCompile(`\d+(?:\.\d+)?`)
)

func numbersIn(s string) []float64 {
	s = strings.ReplaceAll(strings.ReplaceAll(strings.ToLower(s), "−", "-"), ",", "")
	for n, w := range scoredWords {
		s = regexp.MustCompile(`\b`+w+`\b`).ReplaceAllString(s, strconv.Itoa(n))
	}
	var out []float64
	for _, m := range plainNumber.FindAllString(s, -1) {
		if v, err := strconv.ParseFloat(m, 64); err == nil {
			out = append(out, v)
		}
	}
	return out
}

func shareNumber(a, b string) bool {
	in := numbersIn(b)
	return slices.ContainsFunc(numbersIn(a), func(v float64) bool { return slices.Contains(in, v) })
}

type labelled struct {
	Text string `json:"text"`
	Unit Unit   `json:"unit"`
}

// TestLabelledQuantities measures against MeasEval (SemEval-2021 Task 8, Harper
// et al. 2021). A quantity is right when its unit is the labelled one's and the
// two texts share a number. Points on a clock and implied values are no
// quantities there; values that belong to several things count one by one.
func TestLabelledQuantities(t *testing.T) {
	right, gold, read := 0, 0, 0
	for _, g := range surroundings.Lines[struct {
		Text       string
		Quantities []labelled
	}](t, surroundings.Shared(t, "quantities-dev.jsonl")) {
		var left []labelled
		for _, q := range Find(g.Text) {
			if q.Implied || q.Ordinal || !slices.Contains(scoredUnits, string(q.Unit)) {
				continue
			}
			times := 1
			if q.Each {
				times = len(q.Items)
			}
			for range times {
				left = append(left, labelled{q.Text, q.Unit})
			}
		}
		read += len(left)
		for _, q := range g.Quantities {
			gold++
			if i := slices.IndexFunc(left, func(l labelled) bool { return l.Unit == q.Unit && shareNumber(l.Text, q.Text) }); i >= 0 {
				left = slices.Delete(left, i, i+1)
				right++
			}
		}
	}
	f1 := 2 * float64(right) / float64(gold+read)
	t.Logf("F1 %.3f (%d right, %d labelled, %d read)", f1, right, gold, read)
	if f1 < 0.95 {
		t.Errorf("F1 %.3f, want at least .95", f1)
	}
}

// TestClaimedNumbers looks for the numbers behind the labelled claims: in each
// passage an item with the claim's bounds in the claim's unit.
func TestClaimedNumbers(t *testing.T) {
	for _, name := range []string{"passages-dev.jsonl", "passages-free.jsonl"} {
		t.Run(name, func(t *testing.T) { claimedNumbers(t, name) })
	}
}

type claimed struct {
	Low  *float64 `json:"low"`
	High *float64 `json:"high"`
	Unit Unit     `json:"unit"`
}

func claimedNumbers(t *testing.T, name string) {
	found, all := 0, 0
	for _, g := range surroundings.Lines[struct {
		Text   string
		Claims []claimed
	}](t, surroundings.Shared(t, name)) {
		qs := Find(g.Text)
		for _, c := range g.Claims {
			if c.Low == nil && c.High == nil {
				continue
			}
			all++
			if slices.ContainsFunc(qs, func(q Quantity) bool { return holds(q, c) }) {
				found++
			}
		}
	}
	share := float64(found) / float64(all)
	t.Logf("%.3f (%d of %d)", share, found, all)
	if share < 0.97 {
		t.Errorf("found %.3f of the claimed numbers, want at least .97", share)
	}
}

func holds(q Quantity, c claimed) bool {
	if c.Unit == "" {
		c.Unit = One
	}
	items, unit, err := q.Canonical()
	return err == nil && unit == c.Unit && slices.ContainsFunc(items, func(it Item) bool { return near(it.Low, c.Low) && near(it.High, c.High) })
}

// near allows for the labels' rounding.
func near(a, b *float64) bool {
	if a == nil || b == nil {
		return a == b
	}
	return math.Abs(*a-*b) <= 0.011*math.Max(math.Abs(*a), math.Abs(*b))+1e-3
}
