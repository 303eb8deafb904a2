package reader

import (
	"bytes"
	"slices"
	"strings"
	"unicode/utf8"

	"hatchlore/evidence"
	"hatchlore/ingest"
	"hatchlore/ingest/citation"
	"hatchlore/ingest/reference"
)

// citeEntries notes with each second-hand claim which entries of the paper's
// own list of references it cites. Before numbers in brackets it writes whom
// they mean: "[4]" becomes "Haldon 1962 [4]". What the list has not got stays as
// it is.
func citeEntries(doc *ingest.Document, claims []evidence.Claim) {
	r := citing{doc: doc}
	for i := range claims {
		if c := &claims[i]; c.Secondhand && c.Cited != "" {
			r.cite(c)
		}
	}
}

// citing reads a document's list of references when the first claim asks for
// it, and its citations when the first points back to one.
type citing struct {
	doc   *ingest.Document
	list  *citation.List
	trail [][]citation.Mention // by page, in order; nil until it is needed
}

func (r *citing) cite(c *evidence.Claim) {
	if r.list == nil {
		r.list = citation.ReadList(referencesOf(r.doc))
	}
	var names []string
	c.Entries = nil
	for _, m := range citation.Of(c.Cited) {
		if m.Back {
			m = r.before(*c, m)
		}
		for _, e := range r.list.Find(m) {
			entry := evidence.Entry{Place: e.Place, Printed: e.Raw}
			if !slices.Contains(c.Entries, entry) {
				c.Entries = append(c.Entries, entry)
			}
			if name := reference.Citation(e.Record) + e.Suffix; len(m.Numbers) > 0 && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	if len(names) > 0 {
		c.Cited = strings.Join(names, "; ") + " " + c.Cited
	}
}

// before returns the last citation of a work before a claim's own citation, of
// the authors of m where it names some; m itself where there is none.
func (r *citing) before(c evidence.Claim, m citation.Mention) citation.Mention {
	if r.trail == nil {
		for _, p := range r.doc.Pages {
			r.trail = append(r.trail, citation.Mentions(body(p)))
		}
	}
	for i := len(r.doc.Pages) - 1; i >= 0; i-- {
		p := r.doc.Pages[i]
		if p.Number > c.Page {
			continue
		}
		end := len(p.Text)
		if p.Number == c.Page {
			end = nearest(p.Text, c.Cited, c.Start)
		}
		for _, was := range slices.Backward(r.trail[i]) {
			named := len(m.Families) == 0 || reference.CompareAuthors(m.Record().Authors, was.Record().Authors) >= reference.Alike
			if was.Start < end && named && (was.Year > 0 || len(was.Numbers) > 0) && !was.Authority {
				return was
			}
		}
	}
	return m
}

// body is a page's text with its list of references, and its running heads and
// whatever else stands in no block, blanked out, so that places stay what they are.
func body(p ingest.Page) string {
	text := bytes.Repeat([]byte{' '}, len(p.Text))
	for _, b := range p.Blocks {
		if b.Section != ingest.SectionReferences {
			copy(text[b.Start:b.End], p.Text[b.Start:b.End])
		}
	}
	return string(text)
}

// inReferences reports whether a byte of a page stands in its list of
// references.
func inReferences(p ingest.Page, at int) bool {
	return slices.ContainsFunc(p.Blocks, func(b ingest.Block) bool {
		return b.Section == ingest.SectionReferences && b.Start <= at && at < b.End
	})
}

// nearest returns the byte of text at which words stand nearest to a character.
func nearest(text, words string, start int) int {
	best, far := len(text), -1
	for from := 0; ; {
		i := strings.Index(text[from:], words)
		if i < 0 {
			return best
		}
		at := utf8.RuneCountInString(text[:from+i])
		if d := max(at-start, start-at); far < 0 || d < far {
			best, far = from+i, d
		}
		from += i + len(words)
	}
}

// referencesOf is the text of the paper's list of references, as it is broken
// into lines on the page: entries begin at the beginning of a line. A word that
// a hyphen broke stays whole.
func referencesOf(doc *ingest.Document) string {
	var list strings.Builder
	for _, p := range doc.Pages {
		for _, b := range p.Blocks {
			if b.Section != ingest.SectionReferences || b.Kind == ingest.Heading {
				continue
			}
			at := b.Start
			for _, l := range p.Lines {
				if l.Start > at && l.Start < b.End && strings.ContainsRune(" \n", rune(p.Text[l.Start-1])) {
					list.WriteString(strings.TrimRight(p.Text[at:l.Start], " ") + "\n")
					at = l.Start
				}
			}
			list.WriteString(p.Text[at:b.End] + "\n")
		}
	}
	return list.String()
}
