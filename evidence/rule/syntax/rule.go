package syntax

import (
	"fmt"
	"strconv"
	"strings"

	"hatchlore/evidence"
)

// File is one parsed rule file.
type File struct {
	Groups []Group
	Rules  []*Rule
}

// Group names several classes at once.
type Group struct {
	Name    string
	Classes []string
}

// Rule is one line of thought: what it looks at, in which company, and what
// that says.
type Rule struct {
	ID     string
	On     []string
	When   []Condition
	Unless []Condition
	Silent bool
	Claim  Conclusion
	Weight float64
	Takes  []Example
	Leaves []string
	Line   int
}

// Family returns the part of the id before its first full stop.
func (r *Rule) Family() string {
	f, _, _ := strings.Cut(r.ID, ".")
	return f
}

// Conclusion is what a rule claims.
type Conclusion struct {
	Factor   evidence.Factor
	Bearing  string // a bearing, "outcome" or "context"
	Else     string // where the clause has no outcome; "" for none
	Category string // "own" for a photoperiod's ratio
	Bound    string // "", "floor", "ceiling" or "bare"
	Own      bool   // the paper's own finding, whoever is cited beside it
}

// Op is the form of a condition.
type Op string

const (
	OpIn      Op = "in"
	OpBefore  Op = "before"
	OpAfter   Op = "after"
	OpNear    Op = "near"
	OpHere    Op = "here"
	OpNearest Op = "nearest"
	OpValue   Op = "value"
	OpBears   Op = "bears"
	OpSeveral Op = "several"
	OpLevel   Op = "level"
	OpBeside  Op = "beside"
	OpFollows Op = "follows"
)

// NamesFactor reports whether what the condition refers to is a factor.
func (o Op) NamesFactor() bool { return o == OpLevel || o == OpBeside || o == OpFollows }

// Condition is one when or unless of a rule.
type Condition struct {
	Op     Op
	Refs   []string // classes, groups and kinds; for bears: bearings; for level, beside and follows: a factor
	Among  []string // nearest: the rivals
	Scope  string   // in
	Words  int      // before, after, near
	Cmp    string   // value
	Number float64  // value
}

// Example is a text and what the rule makes of it.
type Example struct {
	Text    string
	Bearing string
	Value   string
}

// String prints the file in the form that Parse reads.
func (f *File) String() string {
	var b strings.Builder
	for _, g := range f.Groups {
		fmt.Fprintf(&b, "group %s = %s\n", g.Name, strings.Join(g.Classes, " | "))
	}
	for _, r := range f.Rules {
		fmt.Fprintf(&b, "\n%s", r)
	}
	return b.String()
}

// String prints the rule in the form that Parse reads.
func (r *Rule) String() string {
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

func (c Conclusion) String() string {
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

func (c Condition) String() string {
	refs := strings.Join(c.Refs, " | ")
	switch c.Op {
	case OpIn:
		return refs + " in " + c.Scope
	case OpHere:
		return refs + " here"
	case OpNearest:
		return "nearest " + refs + " among " + strings.Join(c.Among, " | ")
	case OpValue:
		return "value " + c.Cmp + " " + number(c.Number)
	case OpBears, OpLevel, OpBeside, OpFollows:
		return string(c.Op) + " " + refs
	case OpSeveral:
		return "several"
	}
	return refs + " " + string(c.Op) + " " + strconv.Itoa(c.Words)
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
