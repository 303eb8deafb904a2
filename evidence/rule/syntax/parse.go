package syntax

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/lexicon"
)

var (
	scopes   = []string{"clause", "sentence", "previous", "next", "around", "about", "block", "title"}
	bearings = []string{"favours", "prevents", "indifferent", "reported"}
)

// parser reads one line of a rule file at a time.
type parser struct {
	name string
	n    int // line number
	line string
	col  int
}

// Parse reads one rule file.
func Parse(name, text string) (*File, error) {
	f := &File{}
	var current *Rule
	finish := func() error {
		if current == nil {
			return nil
		}
		return current.complete(name)
	}
	for n, line := range strings.Split(text, "\n") {
		p := &parser{name: name, n: n + 1, line: strings.TrimRight(line, " \t\r")}
		indented := line != "" && (line[0] == ' ' || line[0] == '\t')
		p.space()
		if p.col == len(p.line) || p.line[p.col] == '#' {
			continue
		}
		var err error
		switch word := p.word(); {
		case word == "group" && !indented:
			err = p.group(f)
		case word == "rule" && !indented:
			if err = finish(); err == nil {
				current, err = p.head(f)
			}
		case indented && current != nil:
			err = p.part(word, current)
		default:
			err = p.fail("want rule, group or an indented line of a rule")
		}
		if err != nil {
			return nil, err
		}
	}
	if err := finish(); err != nil {
		return nil, err
	}
	return f, nil
}

// complete checks that nothing is missing from r.
func (r *Rule) complete(name string) error {
	missing := ""
	switch {
	case len(r.On) == 0:
		missing = "on"
	case !r.Silent && r.Claim.Factor == "":
		missing = "claim or silent"
	case len(r.Takes) == 0:
		missing = "takes"
	case len(r.Leaves) == 0:
		missing = "leaves"
	}
	if missing != "" {
		return lexicon.Fault(name, r.Line, r.ID, 0, "rule without "+missing)
	}
	return nil
}

func (p *parser) fail(msg string) error {
	return lexicon.Fault(p.name, p.n, p.line, p.col, msg)
}

func (p *parser) space() {
	for p.col < len(p.line) && (p.line[p.col] == ' ' || p.line[p.col] == '\t') {
		p.col++
	}
}

// word takes the next run of characters up to white space.
func (p *parser) word() string {
	p.space()
	start := p.col
	for p.col < len(p.line) && p.line[p.col] != ' ' && p.line[p.col] != '\t' {
		p.col++
	}
	return p.line[start:p.col]
}

func (p *parser) peek() string {
	at := p.col
	w := p.word()
	p.col = at
	return w
}

func (p *parser) end() error {
	p.space()
	if p.col < len(p.line) {
		return p.fail("nothing more wanted")
	}
	return nil
}

// names takes NAME | NAME ...
func (p *parser) names() ([]string, error) {
	var out []string
	for {
		p.space()
		at := p.col
		w := p.word()
		if !lexicon.IsName(w) {
			p.col = at
			return nil, p.fail("want a class, group or kind")
		}
		out = append(out, w)
		if p.peek() != "|" {
			return out, nil
		}
		p.word()
	}
}

func (p *parser) oneOf(what string, allowed []string) (string, error) {
	p.space()
	at := p.col
	w := p.word()
	if !slices.Contains(allowed, w) {
		p.col = at
		return "", p.fail("want " + what)
	}
	return w, nil
}

func (p *parser) number() (float64, error) {
	p.space()
	at := p.col
	v, err := strconv.ParseFloat(p.word(), 64)
	if err != nil || v != v {
		p.col = at
		return 0, p.fail("want a number")
	}
	return v, nil
}

func (p *parser) group(f *File) error {
	name := p.word()
	if !lexicon.IsName(name) {
		return p.fail("want a group name")
	}
	if p.word() != "=" {
		return p.fail("want = behind the group name")
	}
	classes, err := p.names()
	if err != nil {
		return err
	}
	f.Groups = append(f.Groups, Group{name, classes})
	return p.end()
}

func (p *parser) head(f *File) (*Rule, error) {
	p.space()
	at := p.col
	id := p.word()
	family, rest, ok := strings.Cut(id, ".")
	if !ok || !lexicon.IsName(family) || !lexicon.IsName(rest) {
		p.col = at
		return nil, p.fail("want an id FAMILY.NAME")
	}
	r := &Rule{ID: id, Weight: 0.9, Line: p.n}
	f.Rules = append(f.Rules, r)
	return r, p.end()
}

// part reads one indented line into r.
func (p *parser) part(word string, r *Rule) (err error) {
	switch word {
	case "on":
		r.On, err = p.names()
	case "when", "unless":
		var c Condition
		if c, err = p.condition(); err == nil {
			if word == "when" {
				r.When = append(r.When, c)
			} else {
				r.Unless = append(r.Unless, c)
			}
		}
	case "silent":
		r.Silent = true
	case "claim":
		r.Claim, err = p.conclusion()
	case "weight":
		r.Weight, err = p.number()
		if err == nil && (r.Weight < 0 || r.Weight > 1) {
			err = p.fail("a weight is 0 to 1")
		}
	case "takes":
		err = p.takes(r)
	case "leaves":
		var s string
		if s, err = p.quoted(); err == nil {
			r.Leaves = append(r.Leaves, s)
		}
	default:
		p.col = 0
		return p.fail("unknown line of a rule")
	}
	if err != nil {
		return err
	}
	return p.end()
}

func (p *parser) condition() (c Condition, err error) {
	switch p.peek() {
	case "nearest":
		return p.nearest()
	case "value":
		p.word()
		c.Op = OpValue
		if c.Cmp, err = p.oneOf("one of < <= > >=", []string{"<", "<=", ">", ">="}); err != nil {
			return c, err
		}
		c.Number, err = p.number()
		return c, err
	case "bears":
		p.word()
		c.Op = OpBears
		if c.Refs, err = p.names(); err != nil {
			return c, err
		}
		for _, b := range c.Refs {
			if b != "unsaid" && !slices.Contains(bearings, b) {
				return c, p.fail("want a bearing or unsaid")
			}
		}
		return c, nil
	case "level", "beside", "follows":
		c.Op = Op(p.word())
		p.space()
		at := p.col
		factor := p.word()
		if _, ok := evidence.MeasureOf(evidence.Factor(factor)); !ok && factor != "none" {
			p.col = at
			return c, p.fail("want a factor or none")
		}
		c.Refs = []string{factor}
		return c, nil
	case "several":
		p.word()
		return Condition{Op: OpSeveral}, nil
	}
	if c.Refs, err = p.names(); err != nil {
		return c, err
	}
	form, err := p.oneOf("in, before, after, near or here", []string{"in", "before", "after", "near", "here"})
	if err != nil {
		return c, err
	}
	c.Op = Op(form)
	switch c.Op {
	case OpIn:
		c.Scope, err = p.oneOf("a scope", scopes)
	case OpBefore, OpAfter, OpNear:
		var v float64
		if v, err = p.number(); err == nil && (v != float64(int(v)) || v < 0 || v > 1000) {
			err = p.fail("want a number of words")
		}
		c.Words = int(v)
	}
	return c, err
}

func (p *parser) nearest() (c Condition, err error) {
	p.word()
	c.Op = OpNearest
	if c.Refs, err = p.names(); err != nil {
		return c, err
	}
	if p.word() != "among" {
		return c, p.fail("want among")
	}
	c.Among, err = p.names()
	return c, err
}

func (p *parser) conclusion() (c Conclusion, err error) {
	p.space()
	at := p.col
	c.Factor = evidence.Factor(p.word())
	if _, ok := evidence.MeasureOf(c.Factor); !ok {
		p.col = at
		return c, p.fail("want a factor")
	}
	if c.Bearing, err = p.oneOf("a bearing", append([]string{"outcome", "context"}, bearings...)); err != nil {
		return c, err
	}
	for p.peek() != "" {
		switch p.word() {
		case "else":
			c.Else, err = p.oneOf("a bearing", append([]string{"none", "context"}, bearings...))
		case "category":
			c.Category = p.word()
			if c.Category == "" {
				err = p.fail("want a category")
			}
		case "floor":
			c.Bound = "floor"
		case "ceiling":
			c.Bound = "ceiling"
		case "bare":
			c.Bound = "bare"
		case "first-hand":
			c.Own = true
		default:
			err = p.fail("want else, category, floor, ceiling, bare or first-hand")
		}
		if err != nil {
			return c, err
		}
	}
	return c, nil
}

func (p *parser) takes(r *Rule) error {
	s, err := p.quoted()
	if err != nil {
		return err
	}
	e := Example{Text: s}
	if p.peek() == "=>" {
		p.word()
		if e.Bearing, err = p.oneOf("a bearing", bearings); err != nil {
			return err
		}
		if e.Value = p.word(); e.Value == "" {
			return p.fail("want a value")
		}
	} else if !r.Silent {
		return p.fail("want => BEARING VALUE")
	}
	r.Takes = append(r.Takes, e)
	return nil
}

func (p *parser) quoted() (string, error) {
	p.space()
	rest := p.line[p.col:]
	prefix, err := strconv.QuotedPrefix(rest)
	if err != nil || prefix[0] != '"' {
		return "", p.fail("want a text in double quotes")
	}
	s, err := strconv.Unquote(prefix)
	if err != nil || strings.TrimFunc(s, unicode.IsSpace) == "" {
		return "", p.fail("want a text in double quotes")
	}
	p.col += len(prefix)
	return s, nil
}
