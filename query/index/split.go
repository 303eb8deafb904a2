package index

import (
	"encoding/json"
	"slices"
	"strings"

	"hatchlore/ingest"
	"hatchlore/query/index/naming"
	"hatchlore/query/index/passage"
	"hatchlore/query/index/stem"
)

// parts is a page's text by field.
type parts struct {
	text     map[string]string
	spans    []passage.Part
	sections []string // each once
}

func (p parts) layout() []byte {
	b, _ := json.Marshal(p.spans) // strings and numbers always marshal
	return b
}

func fieldOf(s ingest.Section) string {
	switch s {
	case ingest.SectionAbstract, ingest.SectionMethods, ingest.SectionResults:
		return fieldCore
	case ingest.SectionReferences:
		return fieldRefs
	}
	return fieldRest
}

// names returns the terms of the names of a page by the field they go into: all of
// them in one, those outside the reference list in one, of these the ones that come
// often in one, and those of each text field in one of its own. What claims are about
// goes with the best text, for a claim may speak of an animal that its page does not
// name.
func (p parts) names(page Page) map[string][]string {
	out := map[string][]string{}
	add := func(text, name string) {
		out[fieldName] = append(out[fieldName], name)
		out[nameIn(text)] = append(out[nameIn(text)], name)
		if text != fieldRefs {
			out[fieldTold] = append(out[fieldTold], name)
		}
	}
	for _, n := range slices.Concat(page.Names, untold(page)) {
		add(fieldOf(passage.SectionAt(p.spans, n.Start)), n.Full)
	}
	for _, t := range page.Taxa {
		add(fieldCore, t)
	}
	told := naming.Counted(out[fieldTold])
	for field, names := range out {
		out[field] = naming.Terms(names)
	}
	for _, term := range out[fieldTold] {
		if told[term] >= often {
			out[fieldOften] = append(out[fieldOften], term)
		}
	}
	return out
}

// often is from how many times on a page is taken to tell of an animal rather than to
// mention it. Our own judgement, no source.
const often = 3

// minEpithet is the length below which a word behind an initial is no epithet.
const minEpithet = 4

// untold returns the short names of a page that its Names do not tell the genus
// of: a letter and a full stop before a word in small letters.
func untold(page Page) []Name {
	told := map[int]bool{}
	for _, n := range page.Names {
		told[n.Start] = true
	}
	var out []Name
	var before stem.Word
	stem.Words(page.Text, func(w stem.Word) {
		if before.Initial && w.Position == before.Position+1 && w.Start == before.End+len(". ") && !told[before.Start] &&
			w.End-w.Start >= minEpithet && strings.HasPrefix(page.Text[w.Start:], w.Text[:1]) && !stem.IsDigitAt(w.Text, 0) {
			out = append(out, Name{Full: before.Text + ". " + w.Text, Start: before.Start})
		}
		before = w
	})
	return out
}

// nameIn returns the field of the names in a field of text.
func nameIn(text string) string { return fieldName + "." + text }

// split sorts a page's text into fields by its sections.
func split(p ingest.Page) parts {
	out := parts{text: map[string]string{}, spans: passage.PartsOf(p)}
	var fields = map[string]*strings.Builder{}
	for _, s := range out.spans {
		f := fieldOf(s.Section)
		b := fields[f]
		if b == nil {
			b = &strings.Builder{}
			fields[f] = b
		} else {
			b.WriteRune(stem.Gap)
		}
		b.WriteString(p.Text[s.Start:s.End])
		if !slices.Contains(out.sections, string(s.Section)) && s.Section != "" {
			out.sections = append(out.sections, string(s.Section))
		}
	}
	for f, b := range fields {
		out.text[f] = b.String()
	}
	return out
}
