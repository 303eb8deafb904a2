package textfile

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

var (
	mdEmphasis = regexp.MustCompile(`(\*\*|__|\*|_|` + "`" + `)(\S(?:.*?\S)?)(\*\*|__|\*|_|` + "`" + `)`)
	mdStruck   = regexp.MustCompile(`~~\S.*?~~`)
	mdNote     = regexp.MustCompile(`\[\^([^\]\s]+)\]`)
	mdRaised   = regexp.MustCompile(`\^([-−+0-9]{1,4})\^`)
	mdLowered  = regexp.MustCompile(`~([0-9]{1,4})~`)
	mdEscape   = regexp.MustCompile("\\\\([!-/:-@\\[-`{-~])")
	mdHTML     = regexp.MustCompile(`(?i)</?(?:sup|sub|br|i|em|b|strong|span|small|u|del|s)\b[^>]*>|&#?[a-z0-9]+;`)
)

// inline drops the marks of emphasis, keeps the words of links and writes raised and
// lowered text as [htmlText] does.
func inline(s string) string {
	s = mdLink.ReplaceAllString(s, "$1")
	s = mdStruck.ReplaceAllString(s, "")
	s = plainOf(s)
	var t htmlText
	for s != "" {
		m := firstScript(s)
		if m == nil {
			t.write(s)
			break
		}
		t.write(s[:m.start])
		if m.raised {
			t.raise(m.text)
		} else {
			t.lower(m.text)
		}
		s = s[m.end:]
	}
	text := t.b.String()
	if mdHTML.MatchString(text) {
		if nodes, err := html.ParseFragment(strings.NewReader(text), &html.Node{Type: html.ElementNode, Data: "body", DataAtom: atom.Body}); err == nil {
			root := &html.Node{Type: html.ElementNode, Data: "body", DataAtom: atom.Body}
			for _, n := range nodes {
				root.AppendChild(n)
			}
			text = textOf(root)
		}
	}
	return mdEscape.ReplaceAllString(text, "$1")
}

// script is raised or lowered text, and where it stands with its marks.
type script struct {
	start, end int
	text       string
	raised     bool
}

// firstScript finds a note's number, or digits that the text itself raises or lowers
// ("10^3^", "CO~2~"); nil for none.
func firstScript(s string) *script {
	var first *script
	for _, p := range []struct {
		form   *regexp.Regexp
		raised bool
	}{{mdNote, true}, {mdRaised, true}, {mdLowered, false}} {
		if m := p.form.FindStringSubmatchIndex(s); m != nil && (first == nil || m[0] < first.start) {
			first = &script{start: m[0], end: m[1], text: s[m[2]:m[3]], raised: p.raised}
		}
	}
	return first
}

// plainOf drops the marks of emphasis. Signs between digits are no such marks: "3*4*5"
// is a product, and "12_34_56" not one number.
func plainOf(s string) string {
	var b strings.Builder
	for s != "" {
		m := mdEmphasis.FindStringSubmatchIndex(s)
		if m == nil {
			break
		}
		before, _ := utf8.DecodeLastRuneInString(s[:m[0]])
		if m[0] == 0 {
			before, _ = utf8.DecodeLastRuneInString(b.String())
		}
		after, _ := utf8.DecodeRuneInString(s[m[1]:])
		inner := s[m[4]:m[5]]
		first, _ := utf8.DecodeRuneInString(inner)
		last, _ := utf8.DecodeLastRuneInString(inner)
		inWord := s[m[2]] == '_' && (isWordRune(before) || isWordRune(after))
		if inWord || isDigit(before) && isDigit(first) || isDigit(last) && isDigit(after) {
			b.WriteString(s[:m[3]])
			s = s[m[3]:]
			continue
		}
		b.WriteString(s[:m[0]] + inner)
		s = s[m[1]:]
	}
	return b.String() + s
}

func isWordRune(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
