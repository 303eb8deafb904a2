// Package pool takes the hatched fractions that papers counted together, with the
// spread between papers, or says why that cannot be done.
//
// It refuses fractions without the counts of eggs behind them, and to mix eggs that
// emerged with eggs that hatched.
package pool

import (
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/pooling"
	"hatchlore/species/taxonomy"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// Pooled is what the papers that counted eggs tell together of the fraction
// that hatched, or why they cannot. Fractions are in per cent.
//
// Each paper counts with the treatment in which most hatched: that is what its
// eggs could do, and treatments in which nothing did are rarely told with their
// counts. Logits of the fractions are pooled with a variance between papers
// (random effects, DerSimonian and Laird 1986, Controlled Clinical Trials 7:177-188);
// half an egg is added to both sides where none or all hatched. The interval, at
// 95 %, is that of Hartung and Knapp (Knapp and Hartung 2003, Statistics in Medicine
// 22:2693-2710), by Student's t on the spread seen, which holds with few papers where
// one from the normal distribution does not; it is made no narrower than that one,
// which it can be where papers agree by luck (Röver, Knapp and Friede 2015, BMC Medical
// Research Methodology 15:99).
//
// Two papers are not pooled: of how far papers lie apart they tell next to nothing, so
// that one interval is too narrow and the other says that anything may be (Gonnermann
// and others 2015, Statistics in Medicine 34:2476-2480). Each is told with its own.
type Pooled struct {
	Taxon   string         `json:"taxon"`
	Stage   evidence.Stage `json:"stage"`
	Counts  []Counted      `json:"counts"`
	Without []string       `json:"without"` // citations of papers with a fraction and no counts
	Refusal string         `json:"refusal"` // why nothing was pooled, in a sentence; "" where it was

	Fraction float64 `json:"fraction"`
	Low      float64 `json:"low"`
	High     float64 `json:"high"`
	By       string  `json:"interval_by"` // what made the interval: [HartungKnapp] or [Normal]
	// Where the fraction of another paper is expected (Higgins, Thompson and
	// Spiegelhalter 2009, Journal of the Royal Statistical Society A 172:137-159);
	// from five papers on, else both are 0.
	NextLow  float64 `json:"next_low"`
	NextHigh float64 `json:"next_high"`
	I2       float64 `json:"i2"`   // per cent of the spread that chance does not make
	Tau2     float64 `json:"tau2"` // variance between papers, of logits
	Q        float64 `json:"q"`    // Cochran's
	P        float64 `json:"p"`    // of Q
}

// Counted is what one paper counted in its best treatment, by its own findings.
type Counted struct {
	Paper    string   `json:"paper"`
	Citation string   `json:"citation"`
	Hatched  int      `json:"hatched"`
	Eggs     int      `json:"eggs"`
	Claims   []string `json:"claims"`
}

// What makes an interval, in the words of the listings.
const (
	HartungKnapp = "Hartung and Knapp"
	Normal       = "the normal distribution"
)

const poolLevel = 0.95

// rounded is how far a printed fraction may lie from the one counted, in per cent
// points.
const rounded = 0.6

const (
	leastPapers = 3 // that are pooled
	// leastForNext is how many papers it takes before a forecast for another one
	// says anything. Our own judgement, no source.
	leastForNext = 5
)

// Of pools the hatched fractions of a species, stage by stage: emergence is
// not hatching. A stage on which no paper gives a fraction is left out. eggs
// says, by claim, of how many eggs a table's fraction is one, see fulltext.EggsEach.
func Of(claims []evidence.Claim, library witness.Library, names *taxonomy.Names, eggs map[string]int) []Pooled {
	lib := witness.Shelve(library)
	out := []Pooled{}
	for _, g := range witness.Groups(claims, names) {
		if g.Factor != evidence.HatchingFraction {
			continue
		}
		for _, stage := range []evidence.Stage{evidence.StageHatching, evidence.StageEmergence, evidence.StageUnsaid} {
			p := Pooled{Taxon: g.Taxon, Stage: stage, Counts: []Counted{}, Without: []string{}}
			if p.gather(g.Claims, lib, eggs) {
				p.weigh()
				out = append(out, p)
			}
		}
	}
	return out
}

// gather takes the count of each paper's best treatment; false when there is no
// fraction at all. A paper that tells its best in per cent alone has no such count,
// though it counted others: "none of 600 in the dark" is not what its eggs could do.
func (p *Pooled) gather(claims []evidence.Claim, lib *witness.Shelf, eggs map[string]int) bool {
	best, most := map[string]Counted{}, map[string]float64{}
	var all []string
	for _, c := range claims {
		if c.Secondhand || !value.HasNumber(c) || c.Stage != p.Stage && c.Stage != evidence.StageUnsaid {
			continue
		}
		key := lib.Witness(c.Paper)
		if c.Low != nil {
			most[key] = max(most[key], *c.Low)
		}
		if c.Stage != p.Stage {
			continue
		}
		all = append(all, key)
		of, ok := countsOf(c, eggs[c.ID])
		if !ok {
			continue
		}
		k := Counted{Paper: key, Citation: lib.Cite(key), Hatched: of.Part, Eggs: of.Whole, Claims: []string{c.ID}}
		switch old := best[key]; {
		case old.Hatched == k.Hatched && old.Eggs == k.Eggs:
			k.Claims = append(old.Claims, c.ID) // told again
		case old.Hatched*k.Eggs > k.Hatched*old.Eggs:
			continue
		}
		best[key] = k
	}
	maps.DeleteFunc(best, func(key string, k Counted) bool {
		return 100*float64(k.Hatched)/float64(k.Eggs) < most[key]-rounded
	})
	for _, key := range all {
		if _, counted := best[key]; !counted && !slices.Contains(p.Without, lib.Cite(key)) {
			p.Without = append(p.Without, lib.Cite(key))
		}
	}
	slices.Sort(p.Without)
	for _, key := range slices.Sorted(maps.Keys(best)) {
		p.Counts = append(p.Counts, best[key])
	}
	return len(all) > 0
}

// countsOf returns the counts behind a claim's fraction: those of its own
// words, else of the eggs that its table says each row had.
func countsOf(c evidence.Claim, eggs int) (quantity.Counts, bool) {
	if of, ok := countsIn(c); ok || eggs == 0 || !value.SpanOf(c).Point() {
		return of, ok
	}
	return quantity.Counts{Part: int(math.Round(*c.Low / 100 * float64(eggs))), Whole: eggs}, true
}

// countsIn returns the counts that a claim's own words give for its fraction:
// "23 of 40 eggs", or a number of eggs behind the fraction, as in "58 % of 40
// eggs" and "58 % hatched (n = 40)".
func countsIn(c evidence.Claim) (quantity.Counts, bool) {
	told := value.SpanOf(c)
	if !told.Point() {
		return quantity.Counts{}, false
	}
	qs := quantity.Find(c.Quote)
	for i, q := range qs {
		if q.Kind != quantity.Fraction || len(q.Items) != 1 || q.Items[0].Low == nil || math.Abs(*q.Items[0].Low-told.Low) > rounded {
			continue
		}
		if q.Of != nil {
			return *q.Of, true
		}
		if n := eggsBehind(c.Quote, q, qs[i+1:]); n > 0 {
			return quantity.Counts{Part: int(math.Round(told.Low / 100 * float64(n))), Whole: n}, true
		}
	}
	return quantity.Counts{}, false
}

// numberSet finds the number of eggs in "(n = 40)".
var numberSet = regexp.MustCompile(`\b[nN]\s?=\s?(\d{1,6})\b`)

// eggsBehind returns how many eggs the fraction q is a fraction of, 0 where
// the words do not say; rest are the quantities behind it.
func eggsBehind(quote string, q quantity.Quantity, rest []quantity.Quantity) int {
	if len(rest) > 0 && rest[0].Unit == quantity.Eggs && len(rest[0].Items) == 1 && joinedByOf(quote[q.End:rest[0].Start]) {
		if n := rest[0].Items[0].Low; n != nil && *n >= 1 && *n == math.Trunc(*n) {
			return int(*n)
		}
	}
	until := len(quote)
	for _, r := range rest {
		if r.Kind == quantity.Fraction { // what follows may be that one's
			until = r.Start
			break
		}
	}
	if m := numberSet.FindStringSubmatch(quote[q.End:until]); m != nil {
		n, err := strconv.Atoi(m[1])
		if err == nil {
			return n
		}
	}
	return 0
}

// ofWords join a fraction to what it is a fraction of.
var ofWords = []string{"of", "of the", "of all", "von", "von den", "der", "des", "de", "de los", "dos", "das", "delle", "di"}

func joinedByOf(between string) bool {
	return slices.Contains(ofWords, strings.ToLower(strings.Join(strings.Fields(between), " ")))
}

// Compares reports whether several papers gave counts, pooled or not.
func (p Pooled) Compares() bool { return len(p.Counts) > 1 }

// weigh pools the counts, or says why it does not.
func (p *Pooled) weigh() {
	if len(p.Counts) < leastPapers {
		p.Refusal = p.refusal()
		return
	}
	findings := make([]pooling.Finding, len(p.Counts))
	for i, c := range p.Counts {
		findings[i] = pooling.LogitFinding(c.count())
	}
	r, err := pooling.DerSimonianLaird.Pool(findings)
	if err != nil {
		p.Refusal = err.Error()
		return
	}
	in, by := interval(r, findings)
	p.By = by
	p.Fraction, p.Low, p.High = 100*stat.Expit(r.Estimate), 100*stat.Expit(in.Low), 100*stat.Expit(in.High)
	p.I2, p.Tau2, p.Q, p.P = r.I2, r.Tau2, r.Q, r.P
	if n := len(findings); n >= leastForNext {
		half := stat.StudentQuantile(1-(1-poolLevel)/2, float64(n-2)) * math.Sqrt(r.SE*r.SE+r.Tau2)
		p.NextLow, p.NextHigh = 100*stat.Expit(r.Estimate-half), 100*stat.Expit(r.Estimate+half)
	}
}

// interval is that of Hartung and Knapp, or the normal one where it is wider.
func interval(r pooling.Pooled, findings []pooling.Finding) (in stat.Interval, by string) {
	_, t := r.KnappHartung(findings, poolLevel)
	if normal := r.Interval(poolLevel); normal.High > t.High {
		return normal, Normal
	}
	return t, HartungKnapp
}

func (c Counted) count() stat.Count { return stat.Count{Hatched: c.Hatched, Eggs: c.Eggs} }

// String tells a count in per cent, with its interval by Wilson 1927.
func (c Counted) String() string {
	in := stat.Wilson(c.count(), poolLevel)
	return fmt.Sprintf("%s %.0f %% of %d eggs (95 %% interval %.0f to %.0f %%)", c.Citation, 100*c.count().Fraction(), c.Eggs, 100*in.Low, 100*in.High)
}

func (p *Pooled) refusal() string {
	who := "no paper gives the counts of eggs behind its fraction"
	switch len(p.Counts) {
	case 1:
		who = "only " + p.Counts[0].Citation + " gives the counts of eggs behind its fraction"
	case 2:
		who = "two papers are too few to tell how far papers lie apart; each by itself at its best treatment: " + p.Counts[0].String() + " and " + p.Counts[1].String()
	}
	if len(p.Without) > 0 {
		who += "; per cent alone in " + witness.Some(p.Without)
	}
	return who
}

// muchSpread is the share of the spread, in per cent, from which on papers are said
// to differ considerably (Higgins, Thompson, Deeks and Altman 2003, BMJ
// 327:557-560, who call 75 % high).
const muchSpread = 75

// spread says whether papers differ more than chance makes them.
func (p Pooled) spread() string {
	switch {
	case p.I2 >= muchSpread:
		return "papers differ so much more than chance makes them that the middle says little"
	case p.I2 > 0:
		return "papers differ more than chance makes them"
	}
	return "papers differ no more than chance makes them"
}

// String tells the result in a sentence without the species.
func (p Pooled) String() string {
	if p.Refusal != "" {
		return "not pooled: " + p.Refusal
	}
	eggs := 0
	for _, c := range p.Counts {
		eggs += c.Eggs
	}
	did := "hatched"
	if p.Stage == evidence.StageEmergence {
		did = "emerged"
	}
	s := fmt.Sprintf("%.0f %% %s at the best treatment of each paper (95 %% interval %.0f to %.0f %%, by %s): %d eggs in %d papers",
		p.Fraction, did, p.Low, p.High, p.By, eggs, len(p.Counts))
	if p.NextHigh > 0 {
		s += fmt.Sprintf("; another paper would be expected between %.0f and %.0f %%", p.NextLow, p.NextHigh)
	}
	s += fmt.Sprintf("; %s (I² %.0f %%)", p.spread(), p.I2)
	if len(p.Without) > 0 {
		s += "; left out for want of counts: " + witness.Listed(p.Without)
	}
	return s
}
