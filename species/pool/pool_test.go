package pool

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/ingest"
	"hatchlore/species/fulltext"
	"hatchlore/species/speciestest"
)

// fraction makes a first-hand claim on a hatched fraction from its words.
func fraction(paper, quote string, percent float64, stage evidence.Stage) evidence.Claim {
	return evidence.Claim{ID: paper + quote, Paper: paper, Page: 1, Taxon: "Vernocephala umbrosa", Factor: evidence.HatchingFraction,
		Bearing: evidence.Favours, Low: &percent, High: &percent, Unit: "%", Quote: quote, Printed: quote, Stage: stage}
}

// Check M13: the seeds of Crowder 1978, Applied Statistics
// 27:34-37, variety 75 on bean,
// each plate as a paper: logits pooled with v = 1/r + 1/(n-r) give -0.53794002,
// SE 0.20103868, tau2 0.11594104, Q 9.52928040, I2 58.024113 %, and 0.36866692
// (0.28252550 to 0.46408410) as a fraction.
func TestPoolReference(t *testing.T) {
	var claims []evidence.Claim
	for i, c := range [][2]int{{10, 39}, {23, 62}, {23, 81}, {26, 51}, {17, 39}} {
		claims = append(claims, fraction(fmt.Sprint("plate", i), fmt.Sprintf("%d of %d eggs hatched", c[0], c[1]), 100*float64(c[0])/float64(c[1]), evidence.StageHatching))
	}
	got := Of(claims, nil, nil, nil)
	if len(got) != 1 || got[0].Refusal != "" || len(got[0].Counts) != 5 {
		t.Fatalf("%+v", got)
	}
	p := got[0]
	// The interval of Hartung and Knapp by their formula, on the weights 1/(v+tau2):
	// Student's t of 4 and of 3 degrees of freedom at 97.5 % are 2.776445105 and
	// 3.182446305 (Abramowitz and Stegun 1964, table 26.10, has 2.776 and 3.182).
	const mean, se, tau2 = -0.53794002, 0.20103868, 0.11594104
	var q float64
	for _, c := range [][2]float64{{10, 39}, {23, 62}, {23, 81}, {26, 51}, {17, 39}} {
		r, u := c[0], c[1]-c[0]
		q += (math.Log(r/u) - mean) * (math.Log(r/u) - mean) / (1/r + 1/u + tau2)
	}
	percent := func(logit float64) float64 { return 100 / (1 + math.Exp(-logit)) }
	half, next := 2.776445105*se*math.Sqrt(q/4), 3.182446305*math.Sqrt(se*se+tau2)
	for _, x := range []struct {
		name      string
		got, want float64
	}{
		{"fraction", p.Fraction, 36.866692}, {"low", p.Low, percent(mean - half)}, {"high", p.High, percent(mean + half)}, {"I2", p.I2, 58.024113},
		{"tau2", p.Tau2, tau2}, {"Q", p.Q, 9.52928040}, {"next low", p.NextLow, percent(mean - next)}, {"next high", p.NextHigh, percent(mean + next)},
	} {
		if math.Abs(x.got-x.want) > 1e-6 {
			t.Errorf("%s %.8f, want %.8f", x.name, x.got, x.want)
		}
	}
	if p.Low > 28.252550 || p.High < 46.408410 {
		t.Errorf("%.2f to %.2f is narrower than the normal interval", p.Low, p.High)
	}
	if s := p.String(); !strings.Contains(s, "37 % hatched at the best treatment of each paper (95 % interval 25 to 51 %, by Hartung and Knapp): 272 eggs in 5 papers") || !strings.Contains(s, "I² 58 %") {
		t.Error(s)
	}
}

// Papers that agree by luck do not make an interval narrower than the eggs allow.
func TestPoolOfPapersThatAgree(t *testing.T) {
	var claims []evidence.Claim
	for _, paper := range []string{"alder", "birch", "cedar"} {
		claims = append(claims, fraction(paper, "20 of 40 eggs hatched", 50, evidence.StageHatching))
	}
	p := Of(claims, speciestest.Library(), nil, nil)[0]
	half := 1.959963985 / math.Sqrt(3*20.0/2) // logits of v = 1/20 + 1/20
	if want := 100 / (1 + math.Exp(half)); math.Abs(p.Low-want) > 1e-6 || math.Abs(p.High-(100-want)) > 1e-6 || p.NextHigh != 0 || p.By != Normal {
		t.Errorf("%.6f to %.6f, want %.6f: %+v", p.Low, p.High, want, p)
	}
}

func TestCountsIn(t *testing.T) {
	for _, tt := range []struct {
		quote   string
		percent float64
		part, n int // n 0: none
	}{
		{"31 of 50 eggs hatched", 62, 31, 50},
		{"62 % of 50 eggs hatched", 62, 31, 50},
		{"62 ± 4 % hatched (n = 50)", 62, 31, 50},
		{"62 % (31/50 eggs) hatched", 62, 31, 50},
		{"12 % (n = 25) and 62 % (n = 50)", 12, 3, 25},
		{"12 % and 62 % (n = 50)", 12, 0, 0},
		{"62 % of the eggs hatched", 62, 0, 0},
		{"31 of 50 eggs hatched", 12, 0, 0},
		{"62 % hatched at 8 °C in dishes of 50 eggs", 62, 0, 0},
	} {
		got, ok := countsIn(fraction("alder", tt.quote, tt.percent, ""))
		if ok != (tt.n > 0) || got.Part != tt.part || got.Whole != tt.n {
			t.Errorf("%s: %d of %d %v, want %d of %d", tt.quote, got.Part, got.Whole, ok, tt.part, tt.n)
		}
	}
}

func TestPoolGathers(t *testing.T) {
	second := fraction("cedar", "9 of 10 eggs hatched", 90, evidence.StageHatching)
	second.Secondhand, second.Cited = true, "Alder 1960"
	claims := []evidence.Claim{
		fraction("alder", "23 of 40 eggs hatched", 57.5, evidence.StageHatching),
		fraction("alder", "again 23 of 40 eggs hatched", 57.5, evidence.StageHatching),
		fraction("alder", "0 of 20 eggs hatched", 0, evidence.StageHatching),
		fraction("elder", "23 of 40 eggs hatched", 57.5, evidence.StageHatching), // the same experiment
		fraction("birch", "62 % of 50 eggs hatched", 62, evidence.StageHatching),
		fraction("dogtwo", "about 30 % hatched", 30, evidence.StageHatching),
		fraction("fir", "45 of 50 eggs emerged", 90, evidence.StageEmergence),
		fraction("fir", "of 50 eggs, at 8 °C, 12 %", 12, evidence.StageEmergence),
		second,
	}
	got := Of(claims, speciestest.Library(), nil, nil)
	if len(got) != 2 {
		t.Fatalf("%+v", got)
	}
	h := got[0]
	if len(h.Counts) != 2 || h.Counts[0].Hatched != 23 || h.Counts[0].Eggs != 40 || len(h.Counts[0].Claims) != 3 || h.Counts[1].Hatched != 31 || h.Counts[1].Eggs != 50 || !h.Compares() {
		t.Errorf("hatching: %+v", h)
	}
	if s, want := h.String(), "not pooled: two papers are too few to tell how far papers lie apart; each by itself at its best treatment: Alder 1960 57 % of 40 eggs (95 % interval 42 to 71 %) "+
		"and Birch & Cole 1975 62 % of 50 eggs (95 % interval 48 to 74 %); per cent alone in van der Dogtwo 2001"; s != want {
		t.Errorf("%s\nwant %s", s, want)
	}
	if e := got[1]; e.Stage != evidence.StageEmergence || e.String() != "not pooled: only Bramkötter 1983 gives the counts of eggs behind its fraction" {
		t.Errorf("emergence: %+v", e)
	}
	if s := Of(claims[5:6], speciestest.Library(), nil, nil)[0].String(); s != "not pooled: no paper gives the counts of eggs behind its fraction; per cent alone in van der Dogtwo 2001" {
		t.Error(s)
	}
	if got := Of(speciestest.Claims(t, "alder cold favours 3"), speciestest.Library(), nil, nil); len(got) != 0 {
		t.Errorf("%+v", got)
	}
}

// Check M14: the logits of 0/20 and 20/20 with half an egg on both sides are
// -3.71357207 and 3.71357207, v 2.04878049 each; with 10/20, of logit 0 and v 0.2,
// three such papers pool to a half, with a spread that chance does not make.
func TestPoolOfNoneAndAll(t *testing.T) {
	claims := []evidence.Claim{
		fraction("alder", "0 of 20 eggs hatched", 0, evidence.StageHatching),
		fraction("birch", "20 of 20 eggs hatched", 100, evidence.StageHatching),
		fraction("cedar", "10 of 20 eggs hatched", 50, evidence.StageHatching),
	}
	got := Of(claims, speciestest.Library(), nil, nil)
	if len(got) != 1 || got[0].Refusal != "" {
		t.Fatalf("%+v", got)
	}
	const logit, v, w = 3.71357207, 2.04878049, 1 / 2.04878049
	q := 2 * logit * logit / v // about the mean 0
	tau2 := (q - 2) / (2*w + 5 - (2*w*w+25)/(2*w+5))
	for _, x := range []struct {
		name      string
		got, want float64
	}{{"fraction", got[0].Fraction, 50}, {"Q", got[0].Q, q}, {"tau2", got[0].Tau2, tau2}, {"I2", got[0].I2, 100 * (q - 2) / q}} {
		if math.Abs(x.got-x.want) > 1e-5 {
			t.Errorf("%s %.8f, want %.8f", x.name, x.got, x.want)
		}
	}
}

// A table's caption tells of how many eggs its fractions are.
func TestPoolFromTables(t *testing.T) {
	for caption, want := range map[string]int{
		"Table 1. Hatching (% of 200 eggs) at 10 °C.":                    200,
		"Table 1. Nauplii from 400 eggs of V. umbrosa in each treatment": 400,
		"Tabelle 1. Schlupf in Prozent (je 160 Eier).":                   160,
		"Tableau 1. Éclosion (250 œufs par ligne).":                      250,
		"Table 1. Response (six flasks of 50 eggs each).":                0,
		"Table 1. Response, means of four beakers.":                      0,
	} {
		page := speciestest.TablePage(caption, 1, "Days\tHatched (%)", "30\t62")
		page.Blocks[0].Kind = ingest.Caption
		at := strings.Index(page.Text, "30\t62")
		first := len([]rune(page.Text[:at]))
		c := fraction("alder", "30\t62", 62, evidence.StageHatching)
		c.Start, c.End = first, first+5
		if got := fulltext.EggsEach(page, c); got != want {
			t.Errorf("%s: %d, want %d", caption, got, want)
		}
	}
	claims := []evidence.Claim{fraction("alder", "62", 62, evidence.StageHatching), fraction("birch", "20", 20, evidence.StageHatching)}
	got := Of(claims, speciestest.Library(), nil, map[string]int{claims[0].ID: 50, claims[1].ID: 200})
	if len(got) != 1 || !got[0].Compares() || got[0].Counts[0].Hatched != 31 || got[0].Counts[1].Hatched != 40 {
		t.Errorf("%+v", got)
	}
}

// What a paper counted in the dark is not its best treatment when it tells more in
// per cent alone.
func TestBestWithoutCounts(t *testing.T) {
	for _, tt := range []struct {
		stage   evidence.Stage
		without int
	}{{evidence.StageHatching, 1}, {evidence.StageUnsaid, 1}, {evidence.StageEmergence, 0}} {
		got := Of([]evidence.Claim{
			fraction("alder", "0 of 600 eggs hatched", 0, evidence.StageHatching), fraction("alder", "70 % hatched", 70, tt.stage),
			fraction("birch", "52 of 80 eggs hatched", 65, evidence.StageHatching), fraction("birch", "65.4 % hatched", 65.4, evidence.StageHatching),
			fraction("cedar", "30 of 80 eggs hatched", 37.5, evidence.StageHatching),
		}, nil, nil, nil)
		if p := got[0]; len(p.Counts) != 3-tt.without || len(p.Without) != tt.without {
			t.Errorf("70 %% %s: %d papers counted, %v without; %s", tt.stage, len(p.Counts), p.Without, p)
		}
	}
}
