package rule

import (
	"fmt"
	"io/fs"
	"reflect"
	"slices"
	"sort"
	"strings"

	"hatchlore/evidence/rule/lexicon"
	"hatchlore/evidence/rule/table"
)

// vocabulary is the words of all languages that are read, and the classes in
// which they stand. Cues of a class and quantities of a kind are told apart by
// one number, the class.
type vocabulary struct {
	lexicons map[string]*lexicon.Lexicon // cue words, by language
	tables   *table.Reader               // words in the heads of tables
	roles    roles
	langs    []string         // in order
	common   map[string][]int // frequent words, with the languages that have them
	classes  map[string]int   // by name
	named    []string         // names by class
	groups   map[string]bits
	masks    map[string]bool // classes whose phrases hide what is inside them
	watched  bits            // classes of cues that are targets
}

// kinds are the classes of quantities, and what quantities are told to be by
// their size or form. See package syntax.
var kinds = []string{"temperature", "duration", "fraction", "conductivity", "salinity", "ph", "oxygen", "photoperiod", "coldness", "coolness", "frost", "weeks", "span", "moment", "youngcount", "hardlyany"}

// loadVocabulary reads cues/*.cue and heads/*.head of fsys.
func loadVocabulary(fsys fs.FS) (*vocabulary, error) {
	lexicons, err := lexicon.Load(fsys, "cues/*.cue")
	if err != nil {
		return nil, err
	}
	if len(lexicons) == 0 {
		return nil, fmt.Errorf("no cue files under cues/")
	}
	tables, err := table.Load(fsys)
	if err != nil {
		return nil, err
	}
	v := &vocabulary{lexicons: lexicons, tables: tables, common: map[string][]int{}, classes: map[string]int{}, groups: map[string]bits{}, masks: map[string]bool{}}
	for _, k := range kinds {
		v.enter(k)
	}
	for lang := range lexicons {
		v.langs = append(v.langs, lang)
	}
	sort.Strings(v.langs)
	for i, lang := range v.langs {
		for _, w := range lexicons[lang].Common() {
			v.common[w] = append(v.common[w], i)
		}
		for _, class := range lexicons[lang].Classes() {
			v.enter(class)
		}
	}
	if len(v.named) > maxClasses {
		return nil, fmt.Errorf("%d classes of cues, at most %d", len(v.named), maxClasses)
	}
	v.findRoles()
	return v, nil
}

// enter gives a class its number.
func (v *vocabulary) enter(class string) {
	if _, ok := v.classes[class]; !ok {
		v.classes[class] = len(v.named)
		v.named = append(v.named, class)
	}
}

// addGroup names several classes at once; unknown is the first member that is
// neither class nor group.
func (v *vocabulary) addGroup(name string, members []string) (unknown string) {
	b, unknown := v.bitsOf(members)
	if unknown != "" {
		return unknown
	}
	v.groups[name] = b
	if name == "mask" {
		for _, class := range v.named {
			v.masks[class] = b.has(v.classes[class])
		}
	}
	v.findRoles()
	return ""
}

// watch makes targets of the cues of a class. Quantities are targets anyway.
func (v *vocabulary) watch(class int) {
	if class >= len(kinds) {
		v.watched.set(class)
	}
}

func (v *vocabulary) className(class int) string { return v.named[class] }

// bitsOf resolves names of classes, kinds and groups; unknown is the first
// that is neither.
func (v *vocabulary) bitsOf(names []string) (b bits, unknown string) {
	for _, n := range names {
		if g, ok := v.groups[n]; ok {
			b.join(g)
		} else if i, ok := v.classes[n]; ok {
			b.set(i)
		} else {
			return b, n
		}
	}
	return b, ""
}

// bits is a set of classes.
type bits [maxClasses / 64]uint64

const maxClasses = 256

func (b *bits) set(i int) { b[i/64] |= 1 << (i % 64) }

func (b bits) has(i int) bool { return b[i/64]&(1<<(i%64)) != 0 }

func (b bits) meets(o bits) bool {
	for i := range b {
		if b[i]&o[i] != 0 {
			return true
		}
	}
	return false
}

func (b *bits) join(o bits) {
	for i := range b {
		b[i] |= o[i]
	}
}

// lexiconFor returns the cue words of the language that the words belong to:
// most of the frequent words tell, and in a short text the cues themselves;
// fallback when neither does.
func (v *vocabulary) lexiconFor(ws []lexicon.Word, fallback string) *lexicon.Lexicon {
	const plenty = 8 // frequent words of one language
	counts := make([]int, len(v.langs))
	for _, w := range ws {
		for _, i := range v.common[w.Fold] {
			counts[i]++
		}
	}
	if slices.Max(counts) < plenty {
		for i, lang := range v.langs {
			counts[i] += len(v.lexicons[lang].Find(ws, v.masks))
		}
	}
	best := -1
	for i, n := range counts {
		if n >= 2 && (best < 0 || n > counts[best] || n == counts[best] && v.langs[i] == fallback) {
			best = i
		}
	}
	if best >= 0 {
		return v.lexicons[v.langs[best]]
	}
	if lex, ok := v.lexicons[fallback]; ok {
		return lex
	}
	if lex, ok := v.lexicons["en"]; ok {
		return lex
	}
	return v.lexicons[v.langs[0]]
}

// findRoles gives each role the classes of its name. A role of which no file
// has words never meets anything.
func (v *vocabulary) findRoles() {
	to := reflect.ValueOf(&v.roles).Elem()
	for i := range to.NumField() {
		b, _ := v.bitsOf([]string{strings.ToLower(to.Type().Field(i).Name)})
		to.Field(i).Set(reflect.ValueOf(b))
	}
}
