package witness

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"hatchlore/evidence"
	"hatchlore/ingest/reference"
	"hatchlore/species/taxonomy"
	"hatchlore/species/value"
)

// Twin is two papers that tell of one experiment. It is one witness, however
// often it was published.
type Twin struct {
	First, Later string // keys; Later is the younger paper
	Figures      int    // that both found, of what came of the eggs and of its conditions
	Sentences    int    // that are nearly the same in both
}

// What makes two papers of one author on one species twins: our own judgement,
// no source. Authors repeat their methods, so that equal conditions alone say
// nothing; equal outcomes by chance are rare.
const (
	leastOutcomes  = 3   // equal outcomes, and half of those of the paper with fewer
	leastFigures   = 5   // equal figures in all
	leastSentences = 2   // nearly equal sentences do as well, with
	fewFigures     = 2   // equal figures, an outcome among them
	nearSame       = 0.7 // of the words that either sentence has, in both
	leastCompared  = 6   // words of a sentence that is worth comparing
)

// Twins finds papers that share an author and tell of one experiment on one
// species: the same figures, or the same in nearly the same words. Of several
// the oldest is the first. A paper that the keeper judged (see [Paper.Judged])
// is left out as the later of two.
func Twins(claims []evidence.Claim, library Library, names *taxonomy.Names) []Twin {
	told := map[string]map[string]*account{} // taxon → paper
	for _, c := range Ordered(claims) {
		taxon := names.Current(c.Taxon)
		if c.Secondhand || taxon == "" {
			continue
		}
		if told[taxon] == nil {
			told[taxon] = map[string]*account{}
		}
		if told[taxon][c.Paper] == nil {
			told[taxon][c.Paper] = &account{figures: map[string]bool{}, sentences: map[string]bool{}}
		}
		told[taxon][c.Paper].add(c)
	}
	later := map[string]bool{}
	var out []Twin
	for _, taxon := range slices.Sorted(maps.Keys(told)) {
		papers := slices.SortedFunc(maps.Keys(told[taxon]), library.older)
		for i, young := range papers {
			for _, old := range papers[:i] {
				if later[young] || library[young].Judged || !library.shareAuthor(old, young) {
					continue
				}
				if t, ok := told[taxon][old].twin(told[taxon][young]); ok {
					t.First, t.Later = old, young
					later[young] = true
					out = append(out, t)
				}
			}
		}
	}
	return out
}

// Join notes twins in the library, so that one experiment counts once.
func (l Library) Join(twins []Twin) {
	for _, t := range twins {
		p := l[t.Later]
		p.SameAs = t.First
		p.SameWhy = counted(t.Figures, "equal figure")
		if t.Sentences > 0 {
			p.SameWhy += ", " + counted(t.Sentences, "sentence") + " nearly the same"
		}
		l[t.Later] = p
	}
}

// older orders papers by year, then by key; one without a year is the younger.
func (l Library) older(a, b string) int {
	year := func(k string) int { return cmp.Or(l[k].Year, 1<<30) }
	return cmp.Or(cmp.Compare(year(a), year(b)), strings.Compare(a, b))
}

func (l Library) shareAuthor(a, b string) bool {
	there := l[b].record().Authors
	return slices.ContainsFunc(l[a].record().Authors, func(x reference.Author) bool {
		return slices.ContainsFunc(there, func(y reference.Author) bool {
			return reference.CompareAuthors([]reference.Author{x}, []reference.Author{y}) == reference.Same
		})
	})
}

// account is what one paper tells of one species by its own findings.
type account struct {
	figures   map[string]bool // factor and number; true for an outcome
	sentences map[string]bool
}

func (a *account) add(c evidence.Claim) {
	m, _ := evidence.MeasureOf(c.Factor)
	if value.HasNumber(c) && !isLimit(c, m.Outcome) {
		a.figures[string(c.Factor)+" "+value.Number(c)] = m.Outcome
	}
	if len(strings.Fields(c.Quote)) >= leastCompared {
		a.sentences[c.Quote] = true
	}
}

// isLimit reports whether an outcome is none or all, which many experiments
// share.
func isLimit(c evidence.Claim, outcome bool) bool {
	s := value.SpanOf(c)
	return outcome && s.Point() && (s.Low == 0 || c.Unit == "%" && s.Low == 100)
}

func (a *account) outcomes() (n int) {
	for _, outcome := range a.figures {
		if outcome {
			n++
		}
	}
	return n
}

func (a *account) twin(b *account) (t Twin, ok bool) {
	outcomes := 0
	for f, outcome := range a.figures {
		if _, both := b.figures[f]; both {
			t.Figures++
			if outcome {
				outcomes++
			}
		}
	}
	for s := range a.sentences {
		for r := range b.sentences {
			if likeness(s, r) >= nearSame {
				t.Sentences++
				break
			}
		}
	}
	byFigures := outcomes >= leastOutcomes && 2*outcomes >= min(a.outcomes(), b.outcomes()) && t.Figures >= leastFigures
	byWords := t.Sentences >= leastSentences && t.Figures >= fewFigures && outcomes > 0
	return t, byFigures || byWords
}

// likeness is the share of the words of two sentences that both have (Jaccard
// 1901, Bulletin de la Société Vaudoise des Sciences Naturelles 37:547-579).
func likeness(a, b string) float64 {
	x, y := WordSet(a), WordSet(b)
	both := 0
	for w := range x {
		if y[w] {
			both++
		}
	}
	return float64(both) / float64(len(x)+len(y)-both)
}

// WordSet returns the words of a text in small letters.
func WordSet(s string) map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		out[w] = true
	}
	return out
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
