package quantity

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"strconv"
	"strings"
	"sync"
)

//go:embed words/*.txt
var wordFiles embed.FS

// role is what a phrase does beside a number.
type role uint8

const (
	roleUnit role = iota
	roleNumber
	roleArticle      // "a week" is one week ...
	roleArticleAfter // ... but only after one of these
	roleArticleLead  // words between the two
	roleHalf         // "and a half"
	roleCompose      // "treinta y seis"
	roleOrdinal
	roleOrdinalSuffix
	roleArticleFollowed // or before one of these: "a week later"
	roleVague           // "several hundred eggs"
	roleADay            // "14 hours a day"
	roleHighBeforeNoLight
	roleNotOrdinal // "every third day" is no point in time
	roleClock      // units that are counted: "day 9"
	roleClockStop  // "am 8. Tag"
	roleTo
	roleAnd
	roleOr
	roleBetween
	roleCompared  // "difference between", "both": two values told apart, no range
	roleDefinite  // "within the week": one
	rolePartOfDay // "two mornings later" counts days, "one morning" does not
	roleDenominator
	roleFrom
	roleFiller
	roleApprox
	roleApproxAfter
	rolePlusMinus
	roleDeviation // "12 (SD 2) d"
	roleMinus     // "minus 18 °C"
	roleBelowZero // "18 °C below zero"
	roleNil       // "none of 40 eggs"
	roleEach      // "respectively"
	roleRangeWord
	roleLowBefore
	roleLowBeforeNoTime  // "over": "over 4 weeks" says how long, not how long at least
	roleLowBeforeNoShare // "a minimum of 63 %" is a figure that was seen
	roleHighBeforeNoShare
	roleLowAfter
	roleHighBefore
	roleHighAfter
	roleInside // a bound on one value, nothing on a range
	roleNotBe  // "not be", before a bound: the value lies on its other side
	roleStepBefore
	roleStepAfter
	roleLight
	roleDark
	roleOfLight
	roleCycle
	roleOxygen
	roleSaturation
	roleSalinity
	roleHatch
	roleTemperature
	roleMeasureSalinity
	roleMeasurePH
	roleMeasureNoun       // "up to a temperature of": what the number is of
	roleMeasureShare      // "percentage": its figures may follow without a sign ...
	roleGives             // ... behind one of these
	roleMeasureProportion // "fraction": figures up to 1 that may follow likewise
	roleTimeLead          // "after three and ... after eleven years": what it leads is a time
	roleConnect
	roleOfCounts
	roleHatched
	roleLabel
	rolePer
	roleImplied
	roles
)

// directives are the plain ones: a word of the file and the role it gives.
var directives = map[string]role{
	"article": roleArticle, "article after": roleArticleAfter, "article lead": roleArticleLead, "article followed": roleArticleFollowed,
	"vague": roleVague, "a day": roleADay, "high before, no light": roleHighBeforeNoLight,
	"and a half": roleHalf, "compose": roleCompose, "ordinal suffix": roleOrdinalSuffix,
	"not ordinal after": roleNotOrdinal, "clock": roleClock, "clock after stop": roleClockStop, "to": roleTo, "and": roleAnd, "or": roleOr,
	"between": roleBetween, "compared": roleCompared, "definite": roleDefinite, "part of day": rolePartOfDay, "from": roleFrom, "filler": roleFiller, "approx": roleApprox,
	"approx after": roleApproxAfter, "plus minus": rolePlusMinus, "deviation": roleDeviation,
	"minus": roleMinus, "below zero": roleBelowZero, "nil": roleNil, "each": roleEach, "range word": roleRangeWord,
	"low before": roleLowBefore, "low before, no time": roleLowBeforeNoTime, "low before, no share": roleLowBeforeNoShare,
	"high before, no share": roleHighBeforeNoShare, "low after": roleLowAfter,
	"high before": roleHighBefore, "high after": roleHighAfter, "not be": roleNotBe, "inside before": roleInside,
	"difference before": roleStepBefore, "difference after": roleStepAfter,
	"light": roleLight, "dark": roleDark, "of light": roleOfLight, "cycle": roleCycle,
	"cue oxygen": roleOxygen, "cue saturation": roleSaturation, "cue salinity": roleSalinity, "cue hatch": roleHatch, "cue temperature": roleTemperature,
	"measure salinity": roleMeasureSalinity, "measure ph": roleMeasurePH,
	"measure share": roleMeasureShare, "measure noun": roleMeasureNoun, "gives": roleGives, "measure proportion": roleMeasureProportion, "time lead": roleTimeLead, "connect": roleConnect,
	"of counts": roleOfCounts, "hatched": roleHatched, "label": roleLabel, "per": rolePer,
}

// entry is one phrase in one role.
type entry struct {
	words   []string
	exact   bool    // case counts
	value   float64 // of a number or ordinal; the factor of a unit
	unit    Unit
	guessed bool
	symbol  bool  // from symbols.txt: may stand glued to a number, may take exponents
	langs   langs // files that have the phrase
	implied *impliedValue
}

// langs is a set of word files, one bit each. A number word and a unit word go
// together only where one file has both: "dos cistos" are no two cysts.
type langs uint32

type impliedValue struct {
	kind      Kind
	unit      Unit
	low, high *float64
}

// lexicon finds phrases by their first word and, for what stands before a
// number, by their last.
type lexicon struct {
	first, last [roles]map[string][]entry
	opens       map[string]bool // first words with which a quantity can begin
}

// opening are the roles with which a quantity can begin when no figure does.
var opening = []role{roleNumber, roleArticle, roleDefinite, roleOrdinal, roleClock, roleNil, roleLight, roleImplied}

// words is the lexicon of the embedded files. Their soundness is a test's
// business (loadWords returns every problem); a bad line is left out here.
var words = sync.OnceValue(func() *lexicon {
	lx, _ := loadWords(wordFiles)
	return lx
})

// loadWords reads every file under words/. The error lists all bad lines.
func loadWords(files fs.FS) (*lexicon, error) {
	lx := &lexicon{}
	for r := range lx.first {
		lx.first[r] = map[string][]entry{}
		lx.last[r] = map[string][]entry{}
	}
	names, err := fs.Glob(files, "words/*.txt")
	if err != nil {
		return lx, err
	}
	var bad []error
	for k, name := range names {
		text, err := fs.ReadFile(files, name)
		if err != nil {
			bad = append(bad, err)
			continue
		}
		exact := strings.HasSuffix(name, "symbols.txt")
		for n, line := range strings.Split(string(text), "\n") {
			if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
				continue
			}
			if err := lx.addLine(line, exact, 1<<(k%32)); err != nil {
				bad = append(bad, fmt.Errorf("%s:%d: %w", name, n+1, err))
			}
		}
	}
	lx.opens = map[string]bool{}
	for _, r := range opening {
		for w := range lx.first[r] {
			lx.opens[w] = true
		}
	}
	return lx, errors.Join(bad...)
}

// addLine adds a line "directive: phrase, phrase". A comma inside a directive
// is allowed, one inside a phrase is not.
func (lx *lexicon) addLine(line string, exact bool, file langs) error {
	head, list, ok := strings.Cut(line, ":")
	if !ok {
		return errors.New("no colon")
	}
	r, e, err := directive(head)
	if err != nil {
		return err
	}
	e.exact = exact && r == roleUnit
	e.symbol = exact
	e.langs = file
	for phrase := range strings.SplitSeq(list, ",") {
		toks := tokenize(phrase)
		if len(toks) == 0 {
			return fmt.Errorf("%s: empty phrase", head)
		}
		e.words = nil
		for _, t := range toks {
			w := t.key
			if e.exact {
				w = exactKey(phrase[t.start:t.end])
			}
			e.words = append(e.words, w)
		}
		f, l := e.words[0], e.words[len(e.words)-1]
		lx.first[r][f] = append(lx.first[r][f], e)
		lx.last[r][l] = append(lx.last[r][l], e)
	}
	return nil
}

// directive parses what stands before the colon.
func directive(head string) (role, entry, error) {
	if r, ok := directives[head]; ok {
		return r, entry{}, nil
	}
	f := strings.Fields(head)
	switch {
	case len(f) == 2 && (f[0] == "number" || f[0] == "ordinal" || f[0] == "denominator"):
		v, err := strconv.ParseFloat(f[1], 64)
		r := map[string]role{"number": roleNumber, "ordinal": roleOrdinal, "denominator": roleDenominator}[f[0]]
		return r, entry{value: v}, err
	case len(f) == 2 && (f[0] == "unit" || f[0] == "guess"):
		id, times, _ := strings.Cut(f[1], "*")
		e := entry{unit: Unit(id), value: 1, guessed: f[0] == "guess"}
		if times == "" {
			return roleUnit, e, nil
		}
		var err error
		e.value, err = strconv.ParseFloat(times, 64)
		return roleUnit, e, err
	case len(f) == 5 && f[0] == "implied":
		low, err1 := openNumber(f[3])
		high, err2 := openNumber(f[4])
		e := entry{implied: &impliedValue{Kind(f[1]), Unit(f[2]), low, high}}
		return roleImplied, e, errors.Join(err1, err2)
	}
	return 0, entry{}, fmt.Errorf("unknown directive %q", head)
}

func openNumber(s string) (*float64, error) {
	if s == "-" {
		return nil, nil
	}
	v, err := strconv.ParseFloat(s, 64)
	return &v, err
}

// at returns the longest phrase of role r that starts at token i, and its
// length in tokens; 0 when there is none.
func (p *page) at(i int, r role) (entry, int) {
	if i < 0 || i >= len(p.toks) {
		return entry{}, 0
	}
	best, n := entry{}, 0
	for _, e := range p.lx.first[r][p.toks[i].key] {
		switch {
		case len(e.words) < n || !p.same(i, e):
		case len(e.words) > n:
			best, n = e, len(e.words)
		default:
			best.langs |= e.langs
		}
	}
	return best, n
}

// unitAt is at for units, whose symbols are told apart by case.
func (p *page) unitAt(i int) (entry, int) {
	best, n := p.at(i, roleUnit)
	if i >= 0 && i < len(p.toks) {
		for _, e := range p.lx.first[roleUnit][exactKey(p.raw(i))] {
			if len(e.words) > n && e.exact && p.same(i, e) {
				best, n = e, len(e.words)
			}
		}
	}
	return best, n
}

// before returns the longest phrase of role r that ends just before token i.
func (p *page) before(i int, r role) int {
	if i <= 0 || i > len(p.toks) {
		return 0
	}
	n := 0
	for _, e := range p.lx.last[r][p.toks[i-1].key] {
		if k := len(e.words); k > n && k <= i && p.same(i-k, e) {
			n = k
		}
	}
	return n
}

func (p *page) same(i int, e entry) bool {
	if i+len(e.words) > len(p.toks) {
		return false
	}
	for k, w := range e.words {
		if p.toks[i+k].kind == gap {
			return false
		}
		if e.exact {
			if exactKey(p.raw(i+k)) != w {
				return false
			}
		} else if p.toks[i+k].key != w {
			return false
		}
	}
	return true
}
