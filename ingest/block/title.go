package block

import (
	"strings"
	"unicode/utf8"

	"hatchlore/ingest"
	"hatchlore/ingest/line"
)

// findTitle marks the largest type on the first page, if it says something and
// is larger than the text.
func (p *paper) findTitle() {
	if len(p.chunks) == 0 {
		return
	}
	var best *Chunk
	for _, c := range p.chunks[0] {
		text := c.text()
		if c.Kind != ingest.Paragraph || c.first().Sideways || len(strings.Fields(text)) < 3 || utf8.RuneCountInString(text) < 12 ||
			len(text) > 400 || c.first().Top > 0.65*p.sheets[0].Height {
			continue
		}
		if namesSection(text) {
			continue
		}
		if best == nil || c.size() > 1.05*best.size() || line.Near(c.size(), best.size(), 0.05) && c.bold() && !best.bold() {
			best = c
		}
	}
	if best != nil && (best.size() > 1.12*p.body || best.bold()) {
		best.Kind = ingest.Title
	}
}
