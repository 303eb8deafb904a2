// Package question reads what a keeper types to search.
//
// # What a keeper may type
//
//	cold drying        pages with both words, in any form and order
//	"cold period"      the words side by side, as they stand
//	pre-hatch          the same, as any two words joined by a sign
//	dry|freeze         either (spaces around | are allowed)
//	F. umbrosa         a name, whole or abbreviated, in any letters
//	-frozen            without the word; also -"dry ice" and -dry|freeze
//	-18 °C             a number below zero: -"18" leaves the number out
//
// A quotation mark that is never closed holds to the end; the marks of print (“ ” „
// « ») do as well as the typewriter's, and a minus or a
// dash as well as -. Very common words ("the", "der") need not be on the page outside
// quotation marks. Everything but the signs " | and a leading - is looked up as it
// stands.
//
// It refuses nothing but a question without a word to find: every other text means
// something, and what it means does not depend on the library.
package question

import (
	"errors"
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/query/index/stem"
)

// ErrNothing is returned for a question that names nothing to find.
var ErrNothing = errors.New("the question asks for nothing: give at least one word to find")

// Question is a question as typed: all of its clauses must hold.
type Question []Clause

// Clause asks for a page with any of its items, or without all of them.
type Clause struct {
	Without bool
	Any     []Item
}

// Item is a word, or a phrase when it was quoted or holds several words.
type Item struct {
	Text   string
	Quoted bool
}

// Parse reads a question. Every text is one; the only error is [ErrNothing],
// when there is no word in it or only words to be left out.
func Parse(s string) (Question, error) {
	p := parser{rest: strings.Map(typed, s)}
	var q Question
	for {
		c, ok := p.clause()
		if !ok {
			break
		}
		q = append(q, c)
	}
	for _, c := range q {
		if !c.Without {
			return q, nil
		}
	}
	return nil, ErrNothing
}

// typed puts the signs of a keyboard in place of those of print, which telephones and
// copied text bring, and space in place of what is no sign at all.
func typed(r rune) rune {
	switch {
	case strings.ContainsRune("“”„‟«»", r):
		return '"'
	case unicode.IsControl(r):
		return ' '
	}
	return r
}

// dashes may stand before a word that is to be left out.
const dashes = "-−–—"

// String returns the question in the form that Parse reads.
func (q Question) String() string {
	var b strings.Builder
	for i, c := range q {
		if i > 0 {
			b.WriteByte(' ')
		}
		if c.Without {
			b.WriteByte('-')
		}
		for j, it := range c.Any {
			if j > 0 {
				b.WriteByte('|')
			}
			b.WriteString(it.String())
		}
	}
	return b.String()
}

func (it Item) String() string {
	if it.Quoted {
		return `"` + it.Text + `"`
	}
	return it.Text
}

type parser struct{ rest string }

func (p *parser) space() { p.rest = strings.TrimLeftFunc(p.rest, unicode.IsSpace) }

// take removes sign from the front of the rest.
func (p *parser) take(sign string) bool {
	rest, ok := strings.CutPrefix(p.rest, sign)
	p.rest = rest
	return ok
}

// clause reads the next clause that has a word in it.
func (p *parser) clause() (c Clause, ok bool) {
	for p.rest != "" {
		p.space()
		c = Clause{}
		for p.take("|") { // nothing stands before it
			p.space()
		}
		before := p.rest
		p.rest = strings.TrimLeft(p.rest, dashes)
		without := p.rest != before
		for {
			if it, ok := p.item(); ok {
				c.Any = append(c.Any, it)
			}
			if !p.either() {
				break
			}
		}
		if len(c.Any) > 0 {
			c.Without = without && !c.Any[0].number()
			return c, true
		}
	}
	return Clause{}, false
}

// either takes one or more | with the space around them.
func (p *parser) either() bool {
	before := p.rest
	p.space()
	if !p.take("|") {
		p.rest = before
		return false
	}
	for {
		p.space()
		if !p.take("|") {
			return true
		}
	}
}

// item reads a quoted phrase or a run of characters without space, quotation
// mark or |. ok is false when there is no word in it.
func (p *parser) item() (it Item, ok bool) {
	if p.take(`"`) {
		it.Quoted = true
		text, rest, _ := strings.Cut(p.rest, `"`)
		it.Text, p.rest = strings.Join(strings.Fields(text), " "), rest
	} else {
		end := strings.IndexFunc(p.rest, func(r rune) bool { return r == '"' || r == '|' || unicode.IsSpace(r) })
		if end < 0 {
			end = len(p.rest)
		}
		it.Text, p.rest = p.rest[:end], p.rest[end:]
		it.Text = strings.TrimLeft(it.Text, dashes)
	}
	return it, HasWord(it.Text)
}

// number reports whether a sign before the item makes it a number below zero.
func (it Item) number() bool { return !it.Quoted && stem.IsDigitAt(it.Text, 0) }

// HasWord reports whether there is anything in s that can be looked up.
func HasWord(s string) bool {
	return strings.IndexFunc(s, func(r rune) bool { return r != utf8.RuneError && stem.IsWordRune(r) }) >= 0
}
