package index

import (
	"encoding/json"
	"slices"
	"strings"

	"hatchlore/ingest"
	"hatchlore/query/index/stem"
)

// sectionSpan is a stretch of a page's text in one section.
type sectionSpan struct {
	Section    ingest.Section `json:"s"`
	Start, End int
}

// parts is a page's text by field.
type parts struct {
	text     map[string]string
	spans    []sectionSpan // in order, tiling the text
	sections []string      // each once
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

// names returns the names of a page by the field they go into: all of them in
// one, and those of each text field in one of its own. What claims are about
// goes with the best text, for a claim may speak of an animal that its page
// does not name.
func (p parts) names(page Page) map[string][]string {
	out := map[string][]string{}
	add := func(text, name string) {
		out[fieldName] = append(out[fieldName], name)
		out[nameIn(text)] = append(out[nameIn(text)], name)
	}
	for _, n := range slices.Concat(page.Names, untold(page)) {
		add(fieldOf(sectionAt(p.spans, n.Start)), n.Full)
	}
	for _, t := range page.Taxa {
		add(fieldCore, t)
	}
	return out
}

// nameIn returns the field of the names in a field of text.
func nameIn(text string) string { return fieldName + "." + text }

// split sorts a page's text into fields by the section of its blocks. Text
// outside any block goes with the block before it, and blocks that overlap or
// leave the text are cut to fit.
func split(p ingest.Page) parts {
	out := parts{text: map[string]string{}, spans: spansOf(p)}
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

func spansOf(p ingest.Page) []sectionSpan {
	var out []sectionSpan
	at, section := 0, ingest.SectionUnknown
	upTo := func(end int) {
		if end <= at {
			return
		}
		if n := len(out); n > 0 && out[n-1].Section == section {
			out[n-1].End = end
		} else {
			out = append(out, sectionSpan{section, at, end})
		}
		at = end
	}
	for _, b := range p.Blocks {
		start, end := max(b.Start, at), min(b.End, len(p.Text))
		if start >= end {
			continue
		}
		upTo(start)
		section = b.Section
		if b.Kind == ingest.Reference {
			section = ingest.SectionReferences
		}
		upTo(end)
	}
	upTo(len(p.Text))
	return out
}

// sectionAt returns the section of the byte at offset.
func sectionAt(spans []sectionSpan, offset int) ingest.Section {
	for _, s := range spans {
		if offset < s.End {
			return s.Section
		}
	}
	return ingest.SectionUnknown
}
