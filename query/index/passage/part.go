package passage

import "hatchlore/ingest"

// Part is a stretch of a page's text in one section, in bytes.
type Part struct {
	Section    ingest.Section `json:"s"`
	Start, End int
}

// PartsOf returns the parts of a page by the section of its blocks, in order, tiling
// its text. Text outside any block goes with the block before it, and blocks that
// overlap or leave the text are cut to fit.
func PartsOf(p ingest.Page) []Part {
	var out []Part
	at, section := 0, ingest.SectionUnknown
	upTo := func(end int) {
		if end <= at {
			return
		}
		if n := len(out); n > 0 && out[n-1].Section == section {
			out[n-1].End = end
		} else {
			out = append(out, Part{section, at, end})
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

// SectionAt returns the section of the byte at offset.
func SectionAt(parts []Part, offset int) ingest.Section {
	for _, s := range parts {
		if offset < s.End {
			return s.Section
		}
	}
	return ingest.SectionUnknown
}
