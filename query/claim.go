package query

import (
	"context"
	"errors"
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/species/witness"
)

// Claimed is one claim with where it stands and what the keeper decided.
type Claimed struct {
	ID       string           `json:"id"`
	Short    string           `json:"short"` // as far as it is needed to tell claims apart
	Claim    *evidence.Claim  `json:"claim"` // nil for one that is gone: taken back, or lost by a new reading
	Citation string           `json:"citation"`
	Name     string           `json:"name"`   // current name of the taxon
	Before   string           `json:"before"` // what stands before the quote on its page
	After    string           `json:"after"`
	Works    []witness.Work   `json:"works"` // that a second-hand claim gives as its source
	History  []store.Decision `json:"-"`     // the first one first
}

// around is how many characters of the page are shown on each side of a quote.
const around = 120

// Claim returns the claim whose id begins as given, whatever was decided about
// it.
func (e *Engine) Claim(ctx context.Context, beginning string) (Claimed, error) {
	id, err := e.store.ClaimID(ctx, beginning)
	if err != nil {
		return Claimed{}, err
	}
	out := Claimed{ID: id}
	if out.History, err = e.store.History(ctx, id); err != nil {
		return out, err
	}
	if out.Short, err = e.short(ctx, id); err != nil {
		return out, err
	}
	c, err := e.store.Claim(ctx, id)
	if errors.Is(err, store.ErrNoClaim) && len(out.History) > 0 {
		return out, nil
	}
	if err != nil {
		return out, err
	}
	out.ID, out.Claim = c.ID, &c
	if out.Short, err = e.short(ctx, c.ID); err != nil {
		return out, err
	}
	return out, e.place(ctx, &out)
}

func (e *Engine) short(ctx context.Context, id string) (string, error) {
	n, err := e.store.IDLength(ctx)
	return id[:min(n, len(id))], err
}

// place fills in what the paper's record and page tell of a claim.
func (e *Engine) place(ctx context.Context, c *Claimed) error {
	head, err := e.store.Head(ctx, c.Claim.Paper)
	if err != nil {
		return err
	}
	c.Citation = witness.Library{head.Key: {Key: head.Key, Authors: head.Authors, Year: head.Year}}.Cite(head.Key)
	c.Works = []witness.Work{}
	if c.Claim.Secondhand {
		lib, err := e.papers(ctx)
		if err != nil {
			return err
		}
		c.Works = append(c.Works, witness.Shelve(lib).Works(*c.Claim)...)
	}
	names, err := e.names(ctx)
	if err != nil {
		return err
	}
	c.Name = names.Current(c.Claim.Taxon)
	before, after, err := e.store.Context(ctx, *c.Claim, around)
	c.Before, c.After = wholeWords(before, after)
	return err
}

// wholeWords drops the parts of words at which the text around a quote was cut.
// Text that is shorter than around ends with its page.
func wholeWords(before, after string) (string, string) {
	cut := func(s string) bool { return utf8.RuneCountInString(s) >= around }
	if i := strings.IndexFunc(before, unicode.IsSpace); i >= 0 && cut(before) {
		before = strings.TrimLeftFunc(before[i:], unicode.IsSpace)
	}
	if i := strings.LastIndexFunc(after, unicode.IsSpace); i >= 0 && cut(after) {
		after = strings.TrimRightFunc(after[:i], unicode.IsSpace)
	}
	return before, after
}
