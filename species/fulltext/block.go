package fulltext

import "hatchlore/ingest"

// block is a stretch of a paper that tells of the paper's own work, or of what it
// says of others': no reference, and nobody thanked.
type block struct {
	page    int
	section ingest.Section
	text    string
}

// blocksOf returns the blocks of pages in order. A page that was read without
// blocks is one.
func blocksOf(pages []ingest.Page) []block {
	var out []block
	for _, p := range pages {
		if len(p.Blocks) == 0 {
			out = append(out, block{page: p.Number, text: p.Text})
		}
		for _, b := range p.Blocks {
			if b.Kind != ingest.Reference && b.Section != ingest.SectionReferences && b.Section != ingest.SectionOther {
				out = append(out, block{p.Number, b.Section, p.Text[b.Start:b.End]})
			}
		}
	}
	return out
}
