package block

import (
	"hatchlore/ingest"
	"hatchlore/ingest/reference"
)

// splitReferences parts blocks of the list of references that run several entries
// together.
func (p *paper) splitReferences() {
	var lines []string
	p.eachReference(func(c *Chunk) []*Chunk {
		for _, s := range c.Strips {
			lines = append(lines, s.Text)
		}
		return []*Chunk{c}
	})
	opens := reference.Openings(lines)
	p.eachReference(func(c *Chunk) (out []*Chunk) {
		for i, s := range c.Strips {
			if i == 0 || opens[i] {
				out = append(out, &Chunk{Kind: ingest.Reference, Section: c.Section})
			}
			entry := out[len(out)-1]
			entry.Strips = append(entry.Strips, s)
		}
		opens = opens[len(c.Strips):]
		return out
	})
}

// eachReference puts blocks in place of each of the list of references.
func (p *paper) eachReference(in func(c *Chunk) []*Chunk) {
	for i, page := range p.chunks {
		var out []*Chunk
		for _, c := range page {
			if c.Kind == ingest.Reference {
				out = append(out, in(c)...)
			} else {
				out = append(out, c)
			}
		}
		p.chunks[i] = out
	}
}
