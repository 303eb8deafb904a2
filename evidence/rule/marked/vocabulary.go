package marked

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

// Vocabulary is the words of all languages that are read, and the classes in
// which they stand. Cues of a class and quantities of a kind are told apart by
// one number, the class.
type Vocabulary struct {
	Lexicons map[string]*lexicon.Lexicon // cue words, by language
	Tables   *table.Reader               // words in the heads of tables
	Roles    roles
	Langs    []string         // in order
	common   map[string][]int // frequent words, with the languages that have them
	Classes  map[string]int   // by name
	Named    []string         // names by class
	groups   map[string]Bits
	masks    map[string]bool // classes whose phrases hide what is inside them
	watched  Bits            // classes of cues that are targets
}

// kinds are the classes of quantities, and what quantities are told to be by
// their size or form. See package syntax.
var kinds = []string{"temperature", "duration", "fraction", "conductivity", "salinity", "ph", "oxygen", "photoperiod", "coldness", "coolness", "frost", "weeks", "span", "moment", "youngcount", "hardlyany"}

// Load reads cues/*.cue and heads/*.head of fsys.
func Load(fsys fs.FS) (*Vocabulary, error) {
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
	v := &Vocabulary{Lexicons: lexicons, Tables: tables, common: map[string][]int{}, Classes: map[string]int{}, groups: map[string]Bits{}, masks: map[string]bool{}}
	for _, k := range kinds {
		v.enter(k)
	}
	for lang := range lexicons {
		v.Langs = append(v.Langs, lang)
	}
	sort.Strings(v.Langs)
	for i, lang := range v.Langs {
		for _, w := range lexicons[lang].Common() {
			v.common[w] = append(v.common[w], i)
		}
		for _, class := range lexicons[lang].Classes() {
			v.enter(class)
		}
	}
	if len(v.Named) > maxClasses {
		return nil, fmt.Errorf("%d classes of cues, at most %d", len(v.Named), maxClasses)
	}
	v.findRoles()
	return v, nil
}

// enter gives a class its number.
func (v *Vocabulary) enter(class string) {
	if _, ok := v.Classes[class]; !ok {
		v.Classes[class] = len(v.Named)
		v.Named = append(v.Named, class)
	}
}

// AddGroup names several classes at once; unknown is the first member that is
// neither class nor group.
func (v *Vocabulary) AddGroup(name string, members []string) (unknown string) {
	b, unknown := v.BitsOf(members)
	if unknown != "" {
		return unknown
	}
	v.groups[name] = b
	if name == "mask" {
		for _, class := range v.Named {
			v.masks[class] = b.Has(v.Classes[class])
		}
	}
	v.findRoles()
	return ""
}

// Watch makes targets of the cues of a class. Quantities are targets anyway.
func (v *Vocabulary) Watch(class int) {
	if class >= len(kinds) {
		v.watched.Set(class)
	}
}

// ClassName is the name of a class.
func (v *Vocabulary) ClassName(class int) string { return v.Named[class] }

// BitsOf resolves names of classes, kinds and groups; unknown is the first
// that is neither.
func (v *Vocabulary) BitsOf(names []string) (b Bits, unknown string) {
	for _, n := range names {
		if g, ok := v.groups[n]; ok {
			b.Join(g)
		} else if i, ok := v.Classes[n]; ok {
			b.Set(i)
		} else {
			return b, n
		}
	}
	return b, ""
}

// lexiconFor returns the cue words of the language that the words belong to:
// most of the frequent words tell, and in a short text the cues themselves;
// fallback when neither does.
func (v *Vocabulary) lexiconFor(ws []lexicon.Word, fallback string) *lexicon.Lexicon {
	const plenty = 8 // frequent words of one language
	counts := make([]int, len(v.Langs))
	for _, w := range ws {
		for _, i := range v.common[w.Fold] {
			counts[i]++
		}
	}
	if slices.Max(counts) < plenty {
		for i, lang := range v.Langs {
			counts[i] += len(v.Lexicons[lang].Find(ws, v.masks))
		}
	}
	best := -1
	for i, n := range counts {
		if n >= 2 && (best < 0 || n > counts[best] || n == counts[best] && v.Langs[i] == fallback) {
			best = i
		}
	}
	if best >= 0 {
		return v.Lexicons[v.Langs[best]]
	}
	if lex, ok := v.Lexicons[fallback]; ok {
		return lex
	}
	if lex, ok := v.Lexicons["en"]; ok {
		return lex
	}
	return v.Lexicons[v.Langs[0]]
}

// findRoles gives each role the classes of its name. A role of which no file
// has words never meets anything.
func (v *Vocabulary) findRoles() {
	to := reflect.ValueOf(&v.Roles).Elem()
	for i := range to.NumField() {
		b, _ := v.BitsOf([]string{strings.ToLower(to.Type().Field(i).Name)})
		to.Field(i).Set(reflect.ValueOf(b))
	}
}
