package rule

import (
	"fmt"
	"strconv"
	"strings"

	"hatchlore/evidence"
)

// file is one parsed rule file.
type file struct {
	Groups []group
	Rules  []*rule
}

// group names several classes at once.
type group struct {
	Name    string
	Classes []string
}

// rule is one line of thought: what it looks at, in which company, and what
// that says. See package syntax.
type rule struct {
	ID     string
	On     []string
	When   []condition
	Unless []condition
	Silent bool
	Claim  conclusion
	Weight float64
	Takes  []example
	Leaves []string
	line   int
}

// family returns the part of the id before its first full stop.
func (r *rule) family() string {
	f, _, _ := strings.Cut(r.ID, ".")
	return f
}

// conclusion is what a rule claims.
type conclusion struct {
	Factor   evidence.Factor
	Bearing  string // a bearing, "outcome" or "context"
	Else     string // where the clause has no outcome; "" for none
	Category string // "own" for a photoperiod's ratio
	Bound    string // "", "floor", "ceiling" or "bare"
	Own      bool   // the paper's own finding, whoever is cited beside it
}

// op is the form of a condition.
type op string

const (
	opIn      op = "in"
	opBefore  op = "before"
	opAfter   op = "after"
	opNear    op = "near"
	opHere    op = "here"
	opNearest op = "nearest"
	opValue   op = "value"
	opBears   op = "bears"
	opSeveral op = "several"
	opLevel   op = "level"
	opBeside  op = "beside"
	opFollows op = "follows"
)

// namesFactor reports whether what the condition refers to is a factor.
func (o op) namesFactor() bool { return o == opLevel || o == opBeside || o == opFollows }

type condition struct {
	Op     op
	Refs   []string // classes, groups and kinds; for bears: bearings; for level, beside and follows: a factor
	Among  []string // nearest: the rivals
	Scope  string   // in
	Words  int      // before, after, near
	Cmp    string   // value
	Number float64  // value
}

// example is a text and what the rule makes of it.
type example struct {
	Text    string
	Bearing string
	Value   string
}

func (f *file) String() string {
	var b strings.Builder
	for _, g := range f.Groups {
		fmt.Fprintf(&b, "group %s = %s\n", g.Name, strings.Join(g.Classes, " | "))
	}
	for _, r := range f.Rules {
		fmt.Fprintf(&b, "\n%s", r)
	}
	return b.String()
}

func (r *rule) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "rule %s\n  on %s\n", r.ID, strings.Join(r.On, " | "))
	for _, c := range r.When {
		fmt.Fprintf(&b, "  when %s\n", c)
	}
	for _, c := range r.Unless {
		fmt.Fprintf(&b, "  unless %s\n", c)
	}
	if r.Silent {
		b.WriteString("  silent\n")
	} else {
		fmt.Fprintf(&b, "  claim %s\n  weight %s\n", r.Claim, number(r.Weight))
	}
	for _, e := range r.Takes {
		fmt.Fprintf(&b, "  takes %s", strconv.Quote(e.Text))
		if !r.Silent {
			fmt.Fprintf(&b, " => %s %s", e.Bearing, e.Value)
		}
		b.WriteString("\n")
	}
	for _, s := range r.Leaves {
		fmt.Fprintf(&b, "  leaves %s\n", strconv.Quote(s))
	}
	return b.String()
}

func (c conclusion) String() string {
	s := string(c.Factor) + " " + c.Bearing
	if c.Else != "" {
		s += " else " + c.Else
	}
	if c.Category != "" {
		s += " category " + c.Category
	}
	if c.Bound != "" {
		s += " " + c.Bound
	}
	if c.Own {
		s += " first-hand"
	}
	return s
}

func (c condition) String() string {
	refs := strings.Join(c.Refs, " | ")
	switch c.Op {
	case opIn:
		return refs + " in " + c.Scope
	case opHere:
		return refs + " here"
	case opNearest:
		return "nearest " + refs + " among " + strings.Join(c.Among, " | ")
	case opValue:
		return "value " + c.Cmp + " " + number(c.Number)
	case opBears, opLevel, opBeside, opFollows:
		return string(c.Op) + " " + refs
	case opSeveral:
		return "several"
	}
	return refs + " " + string(c.Op) + " " + strconv.Itoa(c.Words)
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
