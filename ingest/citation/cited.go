package citation

import "strings"

// Of returns the mentions in words that are known to be a citation, with or
// without brackets round them: "Hallow 1987", "(Hallow 1987; Birk 1990)".
func Of(cited string) []Mention {
	cited = strings.TrimSpace(cited)
	if strings.HasPrefix(cited, "(") {
		return Mentions(cited)
	}
	out := Mentions("(" + cited + ")")
	for i := range out {
		out[i].Start, out[i].End = out[i].Start-1, out[i].End-1
	}
	return out
}
