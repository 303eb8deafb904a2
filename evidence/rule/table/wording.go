package table

import (
	"regexp"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/lexicon"
)

// wording is a head, a row label or a caption with its words and quantities
// marked.
type wording struct {
	text  string
	cues  []markedCue
	qs    []quantity.Quantity
	parts []span // what commas, brackets and the like part
}

// markedCue is a head word at its place in the wording.
type markedCue struct {
	class string
	span
}

// treatment is one thing done to the eggs, as a head, a label or a caption
// says.
type treatment struct {
	factor    evidence.Factor
	category  string
	low, high *float64
	unit      string
	printed   string
	at        int // byte in the wording
}

// driedBare stands for drying without its length until the whole table is
// known.
const driedBare = "dried"

func readWording(text string, lex *lexicon.Lexicon) wording {
	p := wording{text: text, qs: quantity.Find(text)}
	ws := lexicon.Words(text, 0, len(text))
	for _, c := range lex.Find(ws, hiding) {
		m := markedCue{c.Class, span{ws[c.From].Start, ws[c.To-1].End}}
		if !p.measured(m.span) {
			p.cues = append(p.cues, m)
		}
	}
	p.cut()
	return p
}

// measured reports whether the stretch lies in a quantity with a unit: the F of
// 45 °F is no word.
func (p *wording) measured(s span) bool {
	for _, q := range p.qs {
		if q.Kind != quantity.Count && q.Kind != quantity.Fraction && q.Start <= s.start && s.end <= q.End {
			return true
		}
	}
	return false
}

// cut parts the wording at commas, brackets and plus signs, before "after" and
// the like, and at "and" between two quantities.
func (p *wording) cut() {
	starts := []int{0}
	for i, r := range p.text {
		inside := false
		for _, q := range p.qs {
			inside = inside || q.Start < i && i < q.End
		}
		if !inside && strings.ContainsRune(",;()[]+/:", r) {
			starts = append(starts, i+1)
		}
	}
	for _, c := range p.cues {
		if c.class == "after" || c.class == "join" && p.quantityIn(starts[0], c.start) && p.quantityIn(c.end, len(p.text)) {
			starts = append(starts, c.start)
		}
	}
	starts = append(starts, len(p.text))
	slices.Sort(starts)
	for i := 1; i < len(starts); i++ {
		if starts[i] > starts[i-1] {
			p.parts = append(p.parts, span{starts[i-1], starts[i]})
		}
	}
}

func (p *wording) quantityIn(from, to int) bool {
	for _, q := range p.qs {
		if q.Start >= from && q.End <= to && q.Kind != quantity.Fraction && q.Kind != quantity.Count {
			return true
		}
	}
	return false
}

// has reports whether a word of the class stands in the wording.
func (p *wording) has(class string) bool { return p.hasIn(span{0, len(p.text)}, class) }

func (p *wording) hasIn(s span, class string) bool {
	for _, c := range p.cues {
		if c.class == class && c.start >= s.start && c.end <= s.end {
			return true
		}
	}
	return false
}

// percent reports whether the wording speaks of per cent.
func (p *wording) percent() bool { return strings.Contains(p.text, "%") || p.has("percent") }

// onlyLength is the factor that a length without further words measures: the
// one kind of treatment that the wording names.
func (p *wording) onlyLength() evidence.Factor {
	var out evidence.Factor
	for class, f := range lengthFactors {
		if !p.has(class) {
			continue
		}
		if out != "" {
			return ""
		}
		out = f
	}
	return out
}

// lengthFactors are the treatments that have a length.
var lengthFactors = map[string]evidence.Factor{
	"cold": evidence.ColdLength, "dry": evidence.Drying, "store": evidence.StorageLength,
}

// treatments lists what the wording says was done. Lengths without a word for
// what lasted take the factor unsaid. A caption also tells of counts and
// observation, so that there only plain statements count.
func (p *wording) treatments(unsaid evidence.Factor, caption bool) (out []treatment) {
	for _, part := range p.parts {
		dried := false
		for i := range p.qs {
			q := &p.qs[i]
			if q.Start < part.start || q.Start >= part.end {
				continue
			}
			f := p.factorOf(q, part, unsaid, caption)
			dried = dried || f == evidence.Drying
			if f != "" {
				out = append(out, ofQuantity(f, q)...)
			}
		}
		out = append(out, p.categories(part, dried, caption)...)
	}
	return out
}

// ofQuantity makes a treatment of each value of q.
func ofQuantity(f evidence.Factor, q *quantity.Quantity) (out []treatment) {
	if f == evidence.Light {
		t := treatment{factor: f, printed: q.Text, at: q.Start}
		if t.category = q.Regime(); t.category == "" {
			return nil
		}
		return []treatment{t}
	}
	items, unit, err := q.Canonical()
	if err != nil {
		return nil
	}
	for _, it := range items {
		if it.Low != nil || it.High != nil {
			out = append(out, treatment{factor: f, low: it.Low, high: it.High, unit: string(unit), printed: q.Text, at: q.Start})
		}
	}
	return out
}

// factorOf names what a quantity in a part of the wording was a level of, "" for
// none.
func (p *wording) factorOf(q *quantity.Quantity, part span, unsaid evidence.Factor, caption bool) evidence.Factor {
	if q.Difference || q.Ordinal || q.Implied {
		return ""
	}
	switch q.Kind {
	case quantity.Temperature:
		return p.temperature(q, part, caption)
	case quantity.Duration:
		return p.length(part, unsaid, caption)
	case quantity.Conductivity:
		return evidence.Conductivity
	case quantity.Salinity:
		return evidence.Salinity
	case quantity.Acidity:
		return evidence.PH
	case quantity.Oxygen:
		return evidence.Oxygen
	case quantity.Photoperiod:
		return evidence.Light
	}
	return ""
}

// coldest is the highest temperature of cold rooms and refrigerators (°C;
// common practice, no source).
const coldest = 7

// temperature names what a temperature was the level of. Cold water is where
// eggs were held, and not where they hatched, when a word says so; in a head or
// a label also when a length stands beside it ("days at 3 °C").
func (p *wording) temperature(q *quantity.Quantity, part span, caption bool) evidence.Factor {
	high, ok := highest(q)
	if !ok {
		return ""
	}
	before := span{part.start, q.Start}
	held := p.hasIn(part, "hold") || p.hasIn(part, "after") || p.hasIn(part, "store") || p.hasIn(part, "dry") ||
		!caption && p.lasts(span{0, len(p.text)})
	switch {
	case high <= 0:
		return evidence.Freezing
	case p.hasIn(part, "cold"), high <= coldest && held:
		return evidence.ColdTemperature
	case p.hasIn(before, "dry"), p.hasIn(before, "store"), held && p.lasts(part):
		return ""
	}
	return evidence.WarmTemperature
}

// highest is the upper end of a temperature in °C.
func highest(q *quantity.Quantity) (float64, bool) {
	items, _, err := q.Canonical()
	if err != nil || len(items) == 0 || items[0].High == nil {
		return 0, false
	}
	return *items[0].High, true
}

// lasts reports whether a length stands in the part, as a quantity or as the
// unit of a column.
func (p *wording) lasts(part span) bool {
	for _, q := range p.qs {
		if q.Kind == quantity.Duration && q.Start >= part.start && q.Start < part.end {
			return true
		}
	}
	for _, unit := range []string{"day", "week", "month", "year"} {
		if p.hasIn(part, unit) {
			return true
		}
	}
	return false
}

// length names what a duration in the part measures.
func (p *wording) length(part span, unsaid evidence.Factor, caption bool) evidence.Factor {
	if p.hasIn(part, "frozen") || p.hasIn(part, "undried") && !p.hasIn(part, "cold") && !p.coldIn(part) {
		return ""
	}
	switch {
	case p.hasIn(part, "cold"):
		return evidence.ColdLength
	case p.hasIn(part, "dry"):
		return evidence.Drying
	case p.hasIn(part, "store"):
		return evidence.StorageLength
	case p.coldIn(part) && (!caption || p.hasIn(part, "hold") || p.hasIn(part, "after")):
		return evidence.ColdLength
	case caption || p.has("within") || p.has("count"):
		return ""
	}
	return unsaid
}

// coldIn reports whether the part names a temperature of cold rooms.
func (p *wording) coldIn(part span) bool {
	for i := range p.qs {
		q := &p.qs[i]
		if q.Kind == quantity.Temperature && q.Start >= part.start && q.Start < part.end {
			if high, ok := highest(q); ok && high > 0 && high <= coldest {
				return true
			}
		}
	}
	return false
}

// classCategories are what single words say was done. The first class of a
// part that names a factor decides it.
var classCategories = []struct {
	class    string
	factor   evidence.Factor
	category string
}{
	{"undried", evidence.Drying, "not-required"},
	{"frozen", evidence.Freezing, "tolerated"},
	{"dark", evidence.Light, "dark"},
	{"lit", evidence.Light, "continuous"},
	{"carbon-dioxide", evidence.Trigger, "carbon-dioxide"},
	{"low-oxygen", evidence.Trigger, "low-oxygen"},
	{"flooding", evidence.Trigger, "flooding"},
}

// categories lists what words without a number say. A caption's words tell how
// all eggs were treated, which is a claim only where drying was left out.
func (p *wording) categories(part span, dried, caption bool) (out []treatment) {
	seen := map[evidence.Factor]bool{}
	for _, c := range classCategories {
		if caption && c.class != "undried" || seen[c.factor] || !p.hasIn(part, c.class) {
			continue
		}
		if c.factor == evidence.Freezing && p.quantityIn(part.start, part.end) {
			continue
		}
		seen[c.factor] = true
		out = append(out, treatment{factor: c.factor, category: c.category, at: part.start})
	}
	if !caption && !dried && !seen[evidence.Drying] && p.hasIn(part, "dry") {
		out = append(out, treatment{factor: evidence.Drying, category: driedBare, at: part.start})
	}
	return out
}

// rowCitation is a source named in a row, with or without brackets round the
// year.
var rowCitation = regexp.MustCompile(`\p{Lu}[\p{L}’'-]+(?: (?:and|&|und|et|y|e) \p{Lu}[\p{L}’'-]+| et al\.?)?,? \(?(?:1[89]|20)\d\d[a-z]?\)?`)

// event returns the outcome that a label's last part tells in words, nil for
// none. A label of one cell names treatments only.
func (p *wording) event(cells int) *event {
	if cells < 2 {
		return nil
	}
	last := p.parts[len(p.parts)-1]
	switch {
	case p.hasIn(last, "hatched"):
		return &event{evidence.StageHatching}
	case p.hasIn(last, "emerged"):
		return &event{evidence.StageEmergence}
	}
	return nil
}
