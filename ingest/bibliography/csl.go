package bibliography

import (
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"

	"hatchlore/ingest/charset"
	"hatchlore/ingest/reference"
)

// cslItem is one item of CSL-JSON (schema 1.0.2), the fields used here.
type cslItem struct {
	ID        cslText     `json:"id"`
	Type      string      `json:"type"`
	Title     string      `json:"title,omitempty"`
	Author    []cslAuthor `json:"author,omitempty"`
	Issued    *cslDate    `json:"issued,omitempty"`
	Container string      `json:"container-title,omitempty"`
	Volume    cslText     `json:"volume,omitempty"`
	Page      cslText     `json:"page,omitempty"`
	DOI       string      `json:"DOI,omitempty"`
	Publisher string      `json:"publisher,omitempty"`
}

type cslAuthor struct {
	Family   string `json:"family,omitempty"`
	Given    string `json:"given,omitempty"`
	Particle string `json:"non-dropping-particle,omitempty"`
	Literal  string `json:"literal,omitempty"`
}

type cslDate struct {
	Parts [][]cslText `json:"date-parts,omitempty"`
	Raw   string      `json:"raw,omitempty"`
}

// cslText is a string that files also write as a number.
type cslText string

func (t *cslText) UnmarshalJSON(b []byte) error {
	var s string
	if err := json.Unmarshal(b, &s); err == nil {
		*t = cslText(s)
		return nil
	}
	var n json.Number
	if err := json.Unmarshal(b, &n); err != nil {
		return err
	}
	*t = cslText(n)
	return nil
}

var cslKinds = map[string]Kind{
	"article-journal": Article, "article-magazine": Article, "article": Article, "book": Book, "chapter": Chapter,
	"paper-conference": Chapter, "thesis": Thesis, "report": Report,
}

// ReadCSL reads CSL-JSON, a list of items. A file that is no such list is an
// error; an item that cannot be read, or lacks what its kind needs, is a [Problem],
// with the item's place in the list instead of a line.
func ReadCSL(r io.Reader) ([]Work, []Problem, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, nil, fmt.Errorf("reading CSL-JSON: %w", err)
	}
	var items []json.RawMessage
	if err := json.Unmarshal([]byte(charset.Text(data)), &items); err != nil {
		return nil, nil, fmt.Errorf("reading CSL-JSON: %w", err)
	}
	var works []Work
	var problems []Problem
	for n, raw := range items {
		var it cslItem
		if err := json.Unmarshal(raw, &it); err != nil {
			problems = append(problems, Problem{n + 1, fmt.Sprintf("an item that is no reference: %v", err)})
			continue
		}
		w := it.work()
		problems = append(problems, w.lint(n+1)...)
		works = append(works, w)
	}
	return works, problems, nil
}

func (it cslItem) work() Work {
	w := Work{Kind: Other, Key: string(it.ID), Publisher: it.Publisher}
	if k, ok := cslKinds[it.Type]; ok {
		w.Kind = k
	}
	w.Title, w.Journal, w.Volume = it.Title, it.Container, string(it.Volume)
	w.Pages = reference.PageRange(string(it.Page))
	w.DOI = reference.FindDOI(it.DOI)
	for _, a := range it.Author {
		family := strings.TrimSpace(a.Particle + " " + a.Family)
		if family == "" {
			family = a.Literal
		}
		if family != "" {
			w.Authors = append(w.Authors, reference.Author{Given: a.Given, Family: family})
		}
	}
	if d := it.Issued; d != nil {
		if len(d.Parts) > 0 && len(d.Parts[0]) > 0 {
			w.Year = yearIn(string(d.Parts[0][0]))
		} else {
			w.Year = yearIn(d.Raw)
		}
	}
	return w
}

// WriteCSL writes works as CSL-JSON.
func WriteCSL(w io.Writer, works []Work) error {
	items := make([]cslItem, 0, len(works))
	for _, k := range works {
		it := cslItem{ID: cslText(k.Key), Type: cslType(k.Kind), Title: k.Title, Container: k.Journal, Volume: cslText(k.Volume),
			Page: cslText(strings.ReplaceAll(k.Pages, "–", "-")), DOI: k.DOI, Publisher: k.Publisher}
		for _, a := range k.Authors {
			if a.Given == "" {
				it.Author = append(it.Author, cslAuthor{Literal: a.Family})
			} else {
				it.Author = append(it.Author, cslAuthor{Family: a.Family, Given: a.Given})
			}
		}
		if k.Year > 0 {
			it.Issued = &cslDate{Parts: [][]cslText{{cslText(strconv.Itoa(k.Year))}}}
		}
		items = append(items, it)
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(items)
}

func cslType(k Kind) string {
	switch k {
	case Article:
		return "article-journal"
	case Book, Chapter, Thesis, Report:
		return string(k)
	}
	return "document"
}
