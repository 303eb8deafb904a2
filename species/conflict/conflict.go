// Package conflict holds the nouns of a disagreement: its kind, its sides with
// the claims and voices that stand on them, what could explain it away, and the
// levels at which a trial would settle it; and the rule by which disagreements
// are ordered. Package species finds them.
//
// It refuses to say who is right: a side tells how many papers stand on it by
// their own work.
package conflict

import (
	"hatchlore/evidence"
	"hatchlore/species/fulltext"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// Kind says how the sides of a conflict stand to each other.
type Kind string

const (
	Need    Kind = "need"    // required against not needed or harmful
	Opposed Kind = "opposed" // one favours where another prevents
	Apart   Kind = "apart"   // both favour, and their ranges do not meet
	Silent  Kind = "silent"  // nobody tells at first hand: an open question
)

// Conflict is a disagreement between papers on one factor of one species, or
// an open question.
type Conflict struct {
	ID       string          `json:"id"` // species, factor and kind; the same while these are
	Taxon    string          `json:"taxon"`
	Factor   evidence.Factor `json:"factor"`
	Stage    evidence.Stage  `json:"stage"` // that all claims speak of; "" when they differ or do not say
	Kind     Kind            `json:"kind"`
	Question string          `json:"question"` // in the trade's words
	Sides    []Side          `json:"sides"`
	// Of a disputed value: where else those who stand here, on either side,
	// saw eggs hatch.
	Elsewhere []Elsewhere `json:"elsewhere"`
	Reasons   []Reason    `json:"reasons"`
	Levels    []Level     `json:"levels"` // what a trial that is to settle it would set

	Which string      `json:"-"` // tells conflicts of one factor and kind apart
	At    *value.Span `json:"-"` // of opposed numbers: the disputed value
	After string      `json:"-"` // of counts: the trigger that they follow
}

// Treats reports whether the conflict is about the need for a treatment that an
// egg can go without, or its harm, rather than about one of its values.
func (c Conflict) Treats() bool {
	handled := c.Factor == evidence.Drying || c.Factor == evidence.Freezing
	return c.At == nil && (c.Kind == Need && (handled || c.Factor == evidence.Light) || c.Kind == Opposed && handled)
}

// Disputed is the range of values at which some saw eggs hatch and others none:
// what both the sides that saw some and the one that saw none speak of.
func (c Conflict) Disputed() value.Span {
	if c.At.Point() {
		return *c.At
	}
	last := len(c.Sides) - 1
	open := c.Sides[0].Span()
	for _, s := range c.Sides[1:last] {
		open = open.Join(s.Span())
	}
	both := open.Meet(c.Sides[last].Span()).Meet(*c.At)
	if both.Low > both.High {
		return *c.At
	}
	return both
}

// Elsewhere is where those who stand on sides of a disputed value saw eggs hatch
// besides.
type Elsewhere struct {
	Side
	Of []int `json:"sides"` // places of these sides in the conflict, from 1
}

// Letter names side number i, from 0: A, B and so on.
func Letter(i int) string { return string(rune('A' + i%26)) }

// Letters names the sides that stand where it speaks of: "A and B".
func (e Elsewhere) Letters() string {
	var out []string
	for _, n := range e.Of {
		out = append(out, Letter(n-1))
	}
	return witness.Listed(out)
}

// ReasonKind names a way in which a conflict may be no real one.
type ReasonKind string

const (
	UnitSlip   ReasonKind = "unit"       // one side's value is the other's in another unit
	StageMixed ReasonKind = "stage"      // emergence is set against hatching
	EchoOnly   ReasonKind = "echo"       // a side stands on citations alone
	Twice      ReasonKind = "twice"      // one experiment was published twice, and counts once
	Population ReasonKind = "population" // the eggs came from different places
	Conditions ReasonKind = "conditions" // something else differed as well
)

// Reason is what could explain a conflict away, with what was compared.
type Reason struct {
	Kind   ReasonKind `json:"kind"`
	Note   string     `json:"note"`
	Papers []string   `json:"papers"` // keys of those that are compared
	// Of conditions: the other factor, or what was done to the eggs that no factor
	// covers.
	Factor   evidence.Factor   `json:"factor,omitempty"`
	Handling fulltext.Handling `json:"handling,omitempty"`
	Sources  []Source          `json:"sources,omitempty"` // where papers tell of Handling

	Paper string `json:"-"` // of a slip of unit: whose value it would be
}

// Source is a place in a paper with its words.
type Source struct {
	Paper string `json:"paper"`
	Page  int    `json:"page"`
	Quote string `json:"quote"`
}

// Level is a setting that a trial would need to settle a conflict: one where
// each side stands, one to compare a disputed value with, and the untreated
// control. Sides that dispute one value have levels with the same setting and
// the same label.
type Level struct {
	Value    *float64         `json:"value"` // canonical unit; nil for a category
	Unit     string           `json:"unit"`
	Category string           `json:"category"` // beside a value: what the side says of the need for it
	Label    string           `json:"label"`
	Side     int              `json:"side"`    // 1 for the first side; 0 for the control and for comparison
	Bearing  evidence.Bearing `json:"bearing"` // what the side says the level does; "" on side 0
	Claims   []string         `json:"claims"`
}

// Unit is the canonical unit of the sides' numbers, "" where none has one.
func (c Conflict) Unit() string {
	for _, s := range c.Sides {
		if s.Unit != "" {
			return s.Unit
		}
	}
	return ""
}
