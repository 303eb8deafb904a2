package sheet

import (
	"strings"

	"hatchlore/ingest/language"
	"hatchlore/ingest/line"
)

// judgeCodes finds out whether the codes of characters without a map read as
// language.
func judgeCodes(sheets []*Sheet) line.Codes {
	var b strings.Builder
	for _, sh := range sheets {
		for _, s := range sh.Strips {
			if !s.Coded() {
				continue
			}
			for i := range s.Glyphs {
				if g := &s.Glyphs[i]; g.Coded || g.Rune == ' ' || g.Rune == '\t' {
					b.WriteRune(g.Rune)
				}
			}
			b.WriteByte(' ')
		}
	}
	if language.Reads(b.String()) {
		return line.CodesRead
	}
	return line.CodesMeanNothing
}
