package rule

import (
	"embed"
	"fmt"
	"io/fs"
	"slices"
	"sort"

	"hatchlore/evidence/rule/lexicon"
	"hatchlore/evidence/rule/table"
)

//go:embed rules/*.rule cues/*.cue heads/*.head
var data embed.FS

// Set is a body of rules with the cue words of its languages, ready to read
// documents. It is safe for concurrent use.
type Set struct {
	lexicons map[string]*lexicon.Lexicon
	tables   *table.Reader
	langs    []string         // in order
	common   map[string][]int // frequent words, with the languages that have them
	rules    []*compiled
	classes  map[string]int // class or kind -> bit
	groups   map[string]bits
	roles    roles
	watched  bits                // classes of cues that some rule looks at
	byTarget map[int][]*compiled // rules by what they look at, in order
	named    []string            // class names by bit
	masks    map[string]bool     // classes whose phrases hide what is inside them
}

// Load returns the set that comes with the program.
func Load() (*Set, error) { return Parse(data) }

// SyntaxError is a fault in a rule, cue or head file.
type SyntaxError = lexicon.SyntaxError

// Parse reads a set from rules/*.rule, cues/*.cue and heads/*.head of fsys. A fault in a
// file is a [*SyntaxError].
func Parse(fsys fs.FS) (*Set, error) {
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
	s := &Set{lexicons: lexicons, tables: tables, classes: map[string]int{}, groups: map[string]bits{}}
	for _, k := range kinds {
		s.classes[k] = len(s.classes)
	}
	for lang := range lexicons {
		s.langs = append(s.langs, lang)
	}
	sort.Strings(s.langs)
	s.common = map[string][]int{}
	for i, lang := range s.langs {
		for _, w := range lexicons[lang].Common() {
			s.common[w] = append(s.common[w], i)
		}
	}
	for _, lang := range s.langs {
		for _, class := range lexicons[lang].Classes() {
			if _, ok := s.classes[class]; !ok {
				s.classes[class] = len(s.classes)
			}
		}
	}
	if len(s.classes) > maxClasses {
		return nil, fmt.Errorf("%d classes of cues, at most %d", len(s.classes), maxClasses)
	}
	files, err := fs.Glob(fsys, "rules/*.rule")
	if err != nil {
		return nil, fmt.Errorf("list rule files: %w", err)
	}
	sort.Strings(files)
	if err := s.addFiles(fsys, files); err != nil {
		return nil, err
	}
	s.roles = s.findRoles()
	s.index()
	return s, nil
}

// index sorts the rules by what they look at.
func (s *Set) index() {
	s.named = make([]string, len(s.classes))
	s.byTarget = map[int][]*compiled{}
	s.masks = map[string]bool{}
	for name, i := range s.classes {
		s.named[i] = name
		if s.groups["mask"].has(i) {
			s.masks[name] = true
		}
		for _, r := range s.rules {
			if r.on.has(i) {
				s.byTarget[i] = append(s.byTarget[i], r)
			}
		}
		if len(s.byTarget[i]) > 0 && i >= len(kinds) {
			s.watched.set(i)
		}
	}
}

func (s *Set) className(i int) string { return s.named[i] }

// addFiles reads groups of all files first, so that a rule may use a group of
// a later file.
func (s *Set) addFiles(fsys fs.FS, names []string) error {
	parsed := make([]*file, len(names))
	for i, name := range names {
		b, err := fs.ReadFile(fsys, name)
		if err != nil {
			return fmt.Errorf("read rule file: %w", err)
		}
		if parsed[i], err = parseRules(name, string(b)); err != nil {
			return err
		}
		for _, g := range parsed[i].Groups {
			b, unknown := s.bitsOf(g.Classes)
			if unknown != "" {
				return lexicon.Fault(name, 1, unknown, 0, "unknown class in group "+g.Name)
			}
			s.groups[g.Name] = b
		}
	}
	ids := map[string]bool{}
	for i, f := range parsed {
		for _, r := range f.Rules {
			if ids[r.ID] {
				return lexicon.Fault(names[i], r.line, r.ID, 0, "a second rule with this id")
			}
			ids[r.ID] = true
			c, unknown := s.compile(r)
			if unknown != "" {
				return lexicon.Fault(names[i], r.line, r.ID, 0, "unknown class or group "+unknown)
			}
			s.rules = append(s.rules, c)
		}
	}
	return nil
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

// bitsOf resolves names of classes, kinds and groups; unknown is the first
// that is neither.
func (s *Set) bitsOf(names []string) (b bits, unknown string) {
	for _, n := range names {
		if g, ok := s.groups[n]; ok {
			b.join(g)
		} else if i, ok := s.classes[n]; ok {
			b.set(i)
		} else {
			return b, n
		}
	}
	return b, ""
}

// compiled is a rule with its names resolved.
type compiled struct {
	*rule
	on           bits
	when, unless []test
}

type test struct {
	condition
	refs, among bits
}

func (s *Set) compile(r *rule) (c *compiled, unknown string) {
	c = &compiled{rule: r}
	if c.on, unknown = s.bitsOf(r.On); unknown != "" {
		return nil, unknown
	}
	resolve := func(conds []condition) (out []test) {
		for _, cond := range conds {
			t := test{condition: cond}
			if cond.Op != opBears && !cond.Op.namesFactor() && unknown == "" {
				t.refs, unknown = s.bitsOf(cond.Refs)
			}
			if unknown == "" {
				t.among, unknown = s.bitsOf(cond.Among)
			}
			t.among.join(t.refs)
			out = append(out, t)
		}
		return out
	}
	c.when, c.unless = resolve(r.When), resolve(r.Unless)
	return c, unknown
}

// roles are the classes and groups that the reader itself asks for.
type roles struct {
	act, event, adverse, helpful, unaffected, topic, life, treat                                                                                                                              bits
	neg, lift, contrast, coord, prep, aim, hearsay                                                                                                                                            bits
	respectively, beside, former, latter, both, emergence, hatch, egg, anaphor, resume, reduce, effect, instruct, without, need, noneed, present, past, firsttwo, firstthree, firstfour, null bits
	counted, moved, barely, proverb, heir, never, absence, share, first, youngcount, begins, itword, alike, insideof, reached, lasttwo, lastthree, lastone, betweens, firstone, secondone, thirdone, lowest, highest, middlemost, others, earliest, latest, below, above, change, likewise, subitaneous,
	comes, opens, oxygen, versus, broughtto, batch, wetting, newborn, ofuse, downto, lowering, agent, idle, chill, inword, store, dried, neitherof, larva, grown, posthatch, defines, opened, freed, citing, comparison, handful, emerging, nevertheless, they, rain, relative, but, thattemp, rear bits
}

func (s *Set) findRoles() roles {
	get := func(name string) bits {
		b, _ := s.bitsOf([]string{name}) // a set without the class never meets it
		return b
	}
	return roles{
		act: get("act"), event: get("event"), adverse: get("adverse"), helpful: get("helpful"),
		unaffected: get("unaffected"), topic: get("topic"), life: get("life"), treat: get("treat"),
		neg: get("neg"), lift: get("lift"), contrast: get("contrast"), coord: get("coord"), prep: get("prep"),
		aim: get("aim"), hearsay: get("hearsay"), respectively: get("respectively"), beside: get("beside"),
		former: get("former"), latter: get("latter"), both: get("both"),
		emergence: get("emergence"), hatch: get("hatch"), egg: get("egg"), anaphor: get("anaphor"),
		resume: get("resume"), reduce: get("reduce"), effect: get("effect"), instruct: get("instruct"),
		without: get("without"), need: get("need"), noneed: get("noneed"), present: get("present"), past: get("past"),
		firsttwo: get("firsttwo"), firstthree: get("firstthree"), firstfour: get("firstfour"), null: get("nil"),
		insideof: get("insideof"), reached: get("reached"), begins: get("begins"), itword: get("itword"), moved: get("moved"), barely: get("barely"), proverb: get("proverb"), heir: get("heir"), never: get("never"), absence: get("absence"), share: get("fraction"), first: get("first"), youngcount: get("youngcount"), counted: get("counted"), alike: get("alike"), lasttwo: get("lasttwo"), lastthree: get("lastthree"), lowest: get("lowest"), highest: get("highest"), middlemost: get("middlemost"), others: get("others"),
		lastone: get("lastone"), betweens: get("betweens"), firstone: get("firstone"), secondone: get("secondone"), thirdone: get("thirdone"),
		earliest: get("earliest"), latest: get("latest"), below: get("below"), above: get("above"),
		change: get("change"), likewise: get("likewise"), subitaneous: get("subitaneous"),
		comes: get("comes"), versus: get("versus"), broughtto: get("broughtto"), but: get("but"), they: get("they"), rain: get("rainy"), relative: get("relative"), batch: get("batch"), wetting: get("wetted"), newborn: get("newborn"), ofuse: get("beforeuse"), downto: get("downto"), lowering: get("lowering"), idle: get("idle"), chill: get("chill"), agent: get("agent"), inword: get("inword"), store: get("store"), dried: get("dried"), oxygen: get("oxygentold"), neitherof: get("neitherof"), opens: get("opens"), larva: get("larva"), grown: get("animal"), posthatch: get("posthatch"),
		defines: get("defines"), opened: get("opened"), freed: get("freed"),
		nevertheless: get("nevertheless"), thattemp: get("thattemp"), rear: get("rear"), handful: get("handful"), emerging: get("emerging"), citing: get("citing"), comparison: get("comparison"),
	}
}

// lexiconFor returns the cue words of the language that the words belong to:
// most of the frequent words tell, and in a short text the cues themselves;
// fallback when neither does.
func (s *Set) lexiconFor(ws []lexicon.Word, fallback string) *lexicon.Lexicon {
	const plenty = 8 // frequent words of one language
	counts := make([]int, len(s.langs))
	for _, w := range ws {
		for _, i := range s.common[w.Fold] {
			counts[i]++
		}
	}
	if slices.Max(counts) < plenty {
		for i, lang := range s.langs {
			counts[i] += len(s.lexicons[lang].Find(ws, s.masks))
		}
	}
	best := -1
	for i, n := range counts {
		if n >= 2 && (best < 0 || n > counts[best] || n == counts[best] && s.langs[i] == fallback) {
			best = i
		}
	}
	if best >= 0 {
		return s.lexicons[s.langs[best]]
	}
	if lex, ok := s.lexicons[fallback]; ok {
		return lex
	}
	if lex, ok := s.lexicons["en"]; ok {
		return lex
	}
	return s.lexicons[s.langs[0]]
}

// Rules lists the ids of the rules in the order in which they are tried.
func (s *Set) Rules() []string {
	var out []string
	for _, r := range s.rules {
		out = append(out, r.ID)
	}
	return slices.Clip(out)
}

// Languages lists the languages that the set has cue words for.
func (s *Set) Languages() []string { return slices.Clone(s.langs) }
