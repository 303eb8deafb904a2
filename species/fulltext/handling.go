package fulltext

import (
	_ "embed"
	"slices"
	"strings"
	"sync"

	"hatchlore/evidence/quantity"
	"hatchlore/ingest"
	"hatchlore/species/name"
)

//go:embed data/handling.txt
var handlingData string

// handlingWords is read once and never written after.
var handlingWords = sync.OnceValue(func() map[string]wordlist { return wordlists(handlingData) })

// Handling is something done to eggs that no factor covers, and that can decide
// what a treatment does to them.
type Handling string

const (
	DryingTemperature Handling = "drying-temperature" // at which eggs were dried
	WetKeeping        Handling = "wet-keeping"        // how undried eggs were kept from drying: foul water kills them
	EarlierCold       Handling = "earlier-cold"       // a winter in their pool, before they were collected
)

// Values of [WetKeeping] and [EarlierCold].
const (
	KeptClosed  = "closed vessels"
	KeptRenewed = "changed water"
	AfterFrost  = "frost"
)

// Handled is how a paper handled eggs, with where it says so.
type Handled struct {
	What  Handling
	Value string   // in words; "" for a temperature
	Low   *float64 // °C
	High  *float64
	Taxon string // the species that the words name, "" where they name none
	Page  int
	Quote string
}

// HandledIn returns how a paper handled eggs by its own words. What its methods
// tell counts alone, for elsewhere a paper tries other things and tells of other
// people's; where nothing is known to be methods, the first that it tells of each
// kind.
func HandledIn(pages []ingest.Page) []Handled {
	blocks := blocksOf(pages)
	methods := slices.DeleteFunc(slices.Clone(blocks), func(b block) bool { return b.section != ingest.SectionMethods })
	if len(methods) > 0 {
		return handledIn(methods)
	}
	var first []Handled
	for _, h := range handledIn(blocks) {
		if !slices.ContainsFunc(first, func(f Handled) bool { return f.What == h.What }) {
			first = append(first, h)
		}
	}
	return first
}

func handledIn(blocks []block) []Handled {
	taxa := sync.OnceValue(func() *name.Scope {
		var texts []string
		for _, b := range blocks {
			texts = append(texts, b.text)
		}
		return name.NewScope("", texts...)
	})
	var out []Handled
	for _, b := range blocks {
		for sentence := range sentences(b.text) {
			for _, clause := range strings.FieldsFunc(sentence, func(r rune) bool { return r == ';' }) {
				found := handledBy(clause)
				if len(found) == 0 || cites(clause) || hearsay(clause) {
					continue
				}
				for _, h := range found {
					h.Page, h.Taxon = b.page, onlyTaxon(taxa().Find(clause))
					out = append(out, h)
				}
			}
		}
	}
	return out
}

// onlyTaxon is the species among names, "" where there are none or several.
func onlyTaxon(names []name.Name) string {
	only := ""
	for _, n := range names {
		if full := n.Full(); n.Rank == name.Species && full != only {
			if only != "" {
				return ""
			}
			only = full
		}
	}
	return only
}

// handledBy reads one clause.
func handledBy(clause string) []Handled {
	lists, words := handlingWords(), strings.Fields(clause)
	var out []Handled
	told := func(what Handling, value string) {
		out = append(out, Handled{What: what, Value: value, Quote: quoted(clause, 0, len(clause))})
	}
	if h, ok := driedAt(clause); ok {
		out = append(out, h)
	}
	if lists["eggs"].any(words) && lists["collected"].any(words) && !lists["not"].any(words) && followed(words, mostSince, lists["since"], lists["frost"]) {
		told(EarlierCold, AfterFrost)
	}
	switch {
	case !lists["wet"].any(words):
	case lists["water"].any(words) && lists["renewed"].any(words):
		told(WetKeeping, KeptRenewed)
	case followed(words, 1, lists["closed"], lists["vessel"]):
		told(WetKeeping, KeptClosed)
	}
	return out
}

// mostSince is how many words on frost is told: "after the first frosts". Our own
// judgement, no source.
const mostSince = 4

// followed reports whether a word of one list stands at most some words before
// one of another.
func followed(words []string, most int, first, second wordlist) bool {
	for i, w := range words {
		if first.has(w) && second.any(words[i+1:min(len(words), i+1+most)]) {
			return true
		}
	}
	return false
}

// mostBetween is how many words may stand between a word for drying and its
// temperature: "dried for 90 days on clay plates in the cellar of the School at
// 20 °C". Our own judgement, no source.
const mostBetween = 12

// driedAt finds the temperature at which a clause says that eggs were dried.
func driedAt(clause string) (Handled, bool) {
	lists := handlingWords()
	if !lists["drying"].any(strings.Fields(clause)) {
		return Handled{}, false
	}
	for _, q := range quantity.Find(clause) {
		if q.Kind != quantity.Temperature || q.Difference || q.Implied {
			continue
		}
		from, ok := driedBefore(clause[:q.Start])
		until := q.End
		if !ok {
			if until, ok = driedBehind(clause, q.Start, q.End); !ok {
				continue
			}
			from = q.Start
		}
		items, _, err := q.Canonical()
		if err != nil {
			continue
		}
		h := Handled{What: DryingTemperature, Quote: quoted(clause, from, until)}
		h.Low, h.High = reach(items)
		return h, h.Low != nil && h.High != nil
	}
	return Handled{}, false
}

// driedBefore returns where the word for drying stands to which a temperature
// behind before belongs.
func driedBefore(before string) (at int, ok bool) {
	lists, words := handlingWords(), strings.Fields(before)
	for i := len(words) - 1; i >= 0 && len(words)-i <= mostBetween; i-- {
		if lists["drying"].has(words[i]) {
			return strings.LastIndex(before, words[i]), !lists["not"].any(words[max(0, i-3):i])
		}
		if lists["another"].has(words[i]) {
			return 0, false
		}
	}
	return 0, false
}

// driedBehind returns where the verb ends that follows its temperature, as in
// "bei 25 °C getrocknet".
func driedBehind(clause string, start, end int) (until int, ok bool) {
	lists := handlingWords()
	before, behind := strings.Fields(clause[:start]), strings.Fields(clause[end:])
	if len(before) == 0 || !lists["leads"].has(before[len(before)-1]) {
		return 0, false
	}
	for _, w := range behind[:min(len(behind), mostBetween)] {
		if lists["drying"].has(w) {
			return end + strings.Index(clause[end:], w) + len(strings.TrimRight(w, placeMarks)), true
		}
		if lists["another"].has(w) || strings.ContainsAny(w, ",:") {
			return 0, false
		}
	}
	return 0, false
}

// reach is from where to where items go; nil where one is open there.
func reach(items []quantity.Item) (low, high *float64) {
	for i, it := range items {
		if it.Low == nil || it.High == nil {
			return nil, nil
		}
		if i == 0 {
			low, high = it.Low, it.High
		}
		if *it.Low < *low {
			low = it.Low
		}
		if *it.High > *high {
			high = it.High
		}
	}
	return low, high
}

// leadIn is how many words before what was found are quoted with it.
const leadIn = 8

// quoted is the words of a clause from one byte to another, with some before them,
// blanks tidied.
func quoted(clause string, from, until int) string {
	before := strings.Fields(clause[:from])
	words := append(before[max(0, len(before)-leadIn):], strings.Fields(clause[from:until])...)
	return strings.TrimRight(strings.Join(words, " "), " .,:")
}
