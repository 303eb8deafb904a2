package rule

import (
	"regexp"
	"strings"
)

// citation forms: author and year in or before brackets, bracketed numbers,
// personal communications.
var citationForm = regexp.MustCompile(
	`\([^()]{0,160}\b(?:1[89]|20)\d\d[a-z]?[^()]{0,80}\)` +
		`|\p{Lu}[\p{L}’'-]+(?: (?:and|&|und|et|y|e) \p{Lu}[\p{L}’'-]+| et al\.?)?,? \((?:1[89]|20)\d\d[a-z]?\)` +
		`|\[\d{1,3}(?: ?[,;–-] ?\d{1,3})*\]` +
		`|\b[Pp]ers(?:\.|önliche|onal|önl\.) ?(?:comm\.?|communication|Mitt\w*\.?)`)

var named = regexp.MustCompile(`\p{Lu}\p{Ll}`)

// citations returns where s refers to somebody else's work. A bracket with a
// year alone, as in "(2017)" behind no name, is a date.
func citations(text string, s span) []span {
	// Most sentences have none, and looking for a sign is quicker than the forms.
	if t := text[s.start:s.end]; !strings.ContainsAny(t, "([") && !strings.Contains(t, "ers") {
		return nil
	}
	var out []span
	for _, m := range citationForm.FindAllStringIndex(text[s.start:s.end], -1) {
		c := span{m[0] + s.start, m[1] + s.start}
		if t := text[c.start:c.end]; t[0] == '(' && !named.MatchString(t) {
			continue
		}
		out = append(out, c)
	}
	return out
}
