package reference

import (
	"regexp"
	"strings"
)

// doiAt matches a DOI in prose: 10., a registrant of 4 to 9 digits (dotted parts
// allowed), a slash and a suffix (the pattern that Crossref published in 2015,
// which matched all but a few hundredths of a per cent of its DOIs). Old SICI
// suffixes hold angle brackets and semicolons and are matched on their own.
var doiAt = regexp.MustCompile(`(?i)\b10\.\d{4,9}(?:\.\d+)*/(?:\(SICI\)[^\s"]+|[^\s"<>;,]+)`)

// FindDOI returns the first DOI in s, in lower case and without a resolver's
// address or the punctuation of the sentence around it; "" when there is none.
func FindDOI(s string) string {
	return trimDOI(doiAt.FindString(s))
}

func trimDOI(d string) string {
	for d != "" {
		last := d[len(d)-1]
		switch {
		case strings.IndexByte(".,;:'}]", last) >= 0:
		case last == ')' && strings.Count(d, ")") > strings.Count(d, "("):
		case last == '(' || strings.Count(d, "(") > strings.Count(d, ")") && !strings.Contains(d, "SICI"):
			d = d[:strings.LastIndexByte(d, '(')]
			continue
		default:
			return strings.ToLower(d)
		}
		d = d[:len(d)-1]
	}
	return ""
}
