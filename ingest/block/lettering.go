package block

import (
	"strings"

	"hatchlore/ingest"
	"hatchlore/ingest/heading"
	"hatchlore/ingest/prose"
)

// isLabel reports whether the chunk is a caption's label alone on its line.
func (c *Chunk) isLabel() bool {
	return c.Kind == ingest.Caption && len(c.Strips) == 1 && len(c.text()) < 14
}

// findLettering takes the kind from scraps that are no sentences: numbers alone,
// and the short lines inside a figure, which come in swarms. They stay in the
// text, in no block.
func findLettering(page []*Chunk) {
	scrap := make([]bool, len(page))
	for i, c := range page {
		if len(c.Strips) != 1 || c.Kind != ingest.Paragraph && c.Kind != ingest.Heading {
			continue
		}
		text := c.text()
		scrap[i] = (c.Kind == ingest.Paragraph || !namesSection(text)) && len(strings.Fields(text)) <= 4 && !prose.EndsSentence(text)
	}
	for i, c := range page {
		swarm := 0
		for j := max(0, i-2); j <= min(len(page)-1, i+2); j++ {
			if scrap[j] {
				swarm++
			}
		}
		if scrap[i] && (!prose.HasLetters(c.text()) || swarm >= 4) {
			c.Kind = ""
		}
	}
}

// namesSection reports whether a heading names the section that it opens.
func namesSection(text string) bool {
	_, ok := heading.Section(text)
	return ok
}
