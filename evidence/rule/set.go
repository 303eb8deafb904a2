package rule

import (
	"embed"
	"fmt"
	"io/fs"
	"slices"
	"sort"

	"hatchlore/evidence/rule/lexicon"
	"hatchlore/evidence/rule/marked"
	"hatchlore/evidence/rule/syntax"
)

//go:embed rules/*.rule cues/*.cue heads/*.head
var data embed.FS

// Set is a body of rules with the cue words of its languages, ready to read
// documents. It is safe for concurrent use.
type Set struct {
	words    *marked.Vocabulary
	rules    []*compiled
	byTarget map[int][]*compiled // rules by what they look at, in order
}

// Load returns the set that comes with the program.
func Load() (*Set, error) { return Parse(data) }

// SyntaxError is a fault in a rule, cue or head file.
type SyntaxError = lexicon.SyntaxError

// Parse reads a set from rules/*.rule, cues/*.cue and heads/*.head of fsys. A fault in a
// file is a [*SyntaxError].
func Parse(fsys fs.FS) (*Set, error) {
	words, err := marked.Load(fsys)
	if err != nil {
		return nil, err
	}
	files, err := fs.Glob(fsys, "rules/*.rule")
	if err != nil {
		return nil, fmt.Errorf("list rule files: %w", err)
	}
	sort.Strings(files)
	s := &Set{words: words}
	if err := s.addFiles(fsys, files); err != nil {
		return nil, err
	}
	s.index()
	return s, nil
}

// index sorts the rules by what they look at.
func (s *Set) index() {
	s.byTarget = map[int][]*compiled{}
	for i := range s.words.Named {
		for _, r := range s.rules {
			if r.on.Has(i) {
				s.byTarget[i] = append(s.byTarget[i], r)
			}
		}
		if len(s.byTarget[i]) > 0 {
			s.words.Watch(i)
		}
	}
}

// addFiles reads groups of all files first, so that a rule may use a group of
// a later file.
func (s *Set) addFiles(fsys fs.FS, names []string) error {
	parsed := make([]*syntax.File, len(names))
	for i, name := range names {
		b, err := fs.ReadFile(fsys, name)
		if err != nil {
			return fmt.Errorf("read rule file: %w", err)
		}
		if parsed[i], err = syntax.Parse(name, string(b)); err != nil {
			return err
		}
		for _, g := range parsed[i].Groups {
			if unknown := s.words.AddGroup(g.Name, g.Classes); unknown != "" {
				return lexicon.Fault(name, 1, unknown, 0, "unknown class in group "+g.Name)
			}
		}
	}
	ids := map[string]bool{}
	for i, f := range parsed {
		for _, r := range f.Rules {
			if ids[r.ID] {
				return lexicon.Fault(names[i], r.Line, r.ID, 0, "a second rule with this id")
			}
			ids[r.ID] = true
			c, unknown := s.compile(r)
			if unknown != "" {
				return lexicon.Fault(names[i], r.Line, r.ID, 0, "unknown class or group "+unknown)
			}
			s.rules = append(s.rules, c)
		}
	}
	return nil
}

// compiled is a rule with its names resolved.
type compiled struct {
	*syntax.Rule
	on           marked.Bits
	when, unless []test
}

type test struct {
	syntax.Condition
	refs, among marked.Bits
}

func (s *Set) compile(r *syntax.Rule) (c *compiled, unknown string) {
	c = &compiled{Rule: r}
	if c.on, unknown = s.words.BitsOf(r.On); unknown != "" {
		return nil, unknown
	}
	resolve := func(conds []syntax.Condition) (out []test) {
		for _, cond := range conds {
			t := test{Condition: cond}
			if cond.Op != syntax.OpBears && !cond.Op.NamesFactor() && unknown == "" {
				t.refs, unknown = s.words.BitsOf(cond.Refs)
			}
			if unknown == "" {
				t.among, unknown = s.words.BitsOf(cond.Among)
			}
			t.among.Join(t.refs)
			out = append(out, t)
		}
		return out
	}
	c.when, c.unless = resolve(r.When), resolve(r.Unless)
	return c, unknown
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
func (s *Set) Languages() []string { return slices.Clone(s.words.Langs) }
