package marked

import (
	"slices"
	"strings"
	"unicode/utf8"

	"hatchlore/ingest/citation"
)

// citations returns where s refers to somebody else's work: an author and year
// with the bracket around either, numbers in brackets, "pers. comm.", "loc.
// cit.". The author of a species name is no source.
func citations(text string, s Span) []Span {
	t := text[s.Start:s.End]
	if !mayCite(t) {
		return nil
	}
	var out []Span
	for _, m := range citation.Mentions(t) {
		if m.Authority {
			continue
		}
		c := bracketed(t, Span{m.Start, m.End})
		c.Start, c.End = c.Start+s.Start, c.End+s.Start
		if n := len(out); n > 0 && c.Start < out[n-1].End {
			out[n-1].End = max(out[n-1].End, c.End) // of one bracket
			continue
		}
		out = append(out, c)
	}
	return out
}

// mayCite reports whether t has a sign that every citation has. Most sentences
// have none, and looking for it is quicker than reading them.
func mayCite(t string) bool {
	if strings.IndexByte(t, '[') >= 0 {
		return true
	}
	digits := 0
	for i := range len(t) {
		if t[i] < '0' || t[i] > '9' {
			digits = 0
		} else if digits++; digits == 4 {
			return true
		}
	}
	return slices.ContainsFunc([]string{"pers", "Pers", "npubl", "cit", "ibid", "ebd.", "ebenda", "a. a. O", "a.a.O", "l. c.", "l.c."},
		func(sign string) bool { return strings.Contains(t, sign) })
}

// bracketed widens a citation to the brackets in which it stands, and one with
// its year in brackets, "Miller (1980)", to their end.
func bracketed(t string, c Span) Span {
	const most = 240 // bytes of a bracket before a citation
	from := max(0, c.Start-most)
	depth := 0
	for i := c.Start - 1; i >= from; i-- {
		switch t[i] {
		case ')', ']':
			depth++
		case '(', '[':
			if depth--; depth < 0 {
				if end := closing(t, i); end > c.End {
					return Span{i, end}
				}
				return c
			}
		}
	}
	if i := strings.LastIndexAny(t[c.Start:c.End], "(["); i > 0 {
		if end := closing(t, c.Start+i); end > c.End {
			c.End = end
		}
	}
	return c
}

// closing returns the end of the bracket that opens at i, 0 where it stays open.
func closing(t string, i int) int {
	depth := 0
	for j, r := range t[i:] {
		switch r {
		case '(', '[':
			depth++
		case ')', ']':
			if depth--; depth == 0 {
				return i + j + utf8.RuneLen(r)
			}
		}
	}
	return 0
}
