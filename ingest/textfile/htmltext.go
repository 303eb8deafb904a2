package textfile

import (
	"strings"
	"unicode/utf8"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"hatchlore/ingest"
	"hatchlore/ingest/number"
)

// unseen reports whether a browser shows nothing of an element by itself: what is
// hidden, struck out, or no text at all.
func unseen(n *html.Node) bool {
	if n.Type != html.ElementNode {
		return n.Type == html.CommentNode
	}
	switch n.DataAtom {
	case atom.Script, atom.Style, atom.Noscript, atom.Template, atom.Svg, atom.Iframe, atom.Select, atom.Textarea, atom.Object, atom.Canvas,
		atom.Audio, atom.Video, atom.Datalist, atom.Del, atom.S, atom.Strike, atom.Rt, atom.Rp:
		return true
	}
	if n.Namespace == "math" && (n.Data == "annotation" || n.Data == "annotation-xml") {
		return true
	}
	for _, a := range n.Attr {
		style := strings.ToLower(strings.Join(strings.Fields(a.Val), ""))
		if a.Key == "hidden" && style != "until-found" || a.Key == "style" && (strings.Contains(style, "display:none") || strings.Contains(style, "visibility:hidden")) {
			return true
		}
	}
	return false
}

// isBlock reports whether an element stands on lines of its own.
func isBlock(n *html.Node) bool {
	switch n.DataAtom {
	case atom.P, atom.Div, atom.Section, atom.Article, atom.Blockquote, atom.Pre, atom.Ul, atom.Ol, atom.Dl, atom.Dt, atom.Dd, atom.Li,
		atom.Header, atom.Footer, atom.Main, atom.Aside, atom.Address, atom.Figure, atom.Figcaption, atom.Hr, atom.Body, atom.Center,
		atom.Details, atom.Summary, atom.Fieldset, atom.Legend, atom.Hgroup, atom.Menu, atom.Dir,
		atom.H1, atom.H2, atom.H3, atom.H4, atom.H5, atom.H6, atom.Table, atom.Caption, atom.Tr, atom.Td, atom.Th:
		return true
	}
	return false
}

// htmlText collects the text of elements as a browser shows it.
type htmlText struct{ b strings.Builder }

// textOf returns all text of an element, on one line.
func textOf(n *html.Node) string {
	var t htmlText
	t.children(n, 0)
	return t.b.String()
}

func (t *htmlText) children(n *html.Node, depth int) {
	for c := n.FirstChild; c != nil && depth < maxDepth; c = c.NextSibling {
		switch {
		case unseen(c):
		case c.Type == html.TextNode:
			t.write(c.Data)
		case t.inline(c, depth):
		case isBlock(c):
			t.b.WriteByte(' ')
			t.children(c, depth+1)
			t.b.WriteByte(' ')
		default:
			t.children(c, depth+1)
		}
	}
}

func (t *htmlText) write(s string) { t.b.WriteString(s) }

// inline handles the elements that change what their text says; it reports whether
// the element is done with.
func (t *htmlText) inline(n *html.Node, depth int) bool {
	switch n.DataAtom {
	case atom.Br:
		t.b.WriteByte(' ')
		return true
	case atom.Sup:
		t.raise(textOf(n))
		return true
	case atom.Sub:
		t.lower(textOf(n))
		return true
	case atom.Img:
		t.picture(attr(n, "alt"))
		return true
	}
	if n.Namespace == "math" {
		return t.math(n, depth)
	}
	return false
}

// maxSign is the length of a text that stands for a picture of a sign.
const maxSign = 8

// picture writes the text that stands for a picture. Without one, a picture behind a
// digit may have been a sign of the number.
func (t *htmlText) picture(alt string) {
	switch alt = strings.TrimSpace(alt); {
	case alt != "" && utf8.RuneCountInString(alt) <= maxSign:
		t.b.WriteString(alt)
	case isDigit(t.last()):
		t.b.WriteRune(ingest.Lost)
	}
}

// math writes the parts of a formula (MathML Core, 3.4 and 3.3.2) whose place makes
// the number.
func (t *htmlText) math(n *html.Node, depth int) bool {
	var parts []*html.Node
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		if c.Type == html.ElementNode {
			parts = append(parts, c)
		}
	}
	if len(parts) != 2 {
		return false
	}
	switch n.Data {
	case "msup":
		t.children(parts[0], depth+1)
		t.raise(strings.TrimSpace(textOf(parts[1])))
	case "msub":
		t.children(parts[0], depth+1)
		t.lower(strings.TrimSpace(textOf(parts[1])))
	case "mfrac":
		t.b.WriteString(" " + strings.TrimSpace(textOf(parts[0])) + "/" + strings.TrimSpace(textOf(parts[1])) + " ")
	default:
		return false
	}
	return true
}

// raise writes raised text: digits as such, so that a power does not become part of
// a number.
func (t *htmlText) raise(s string) {
	for _, r := range s {
		if up := number.Superscript(r); up != 0 {
			r = up
		}
		t.b.WriteRune(r)
	}
}

// lower writes lowered text: digits as such where they would run into a number, and
// a fraction of raised and lowered digit as its sign.
func (t *htmlText) lower(s string) {
	text := t.b.String()
	if over, rest, ok := number.CutFraction(text); ok && len(s) == 1 && isDigit(rune(s[0])) {
		if sign := number.Fraction(over, rune(s[0])); sign != 0 {
			t.b.Reset()
			t.b.WriteString(rest + string(sign))
			return
		}
	}
	last := t.last()
	into := isDigit(last) || number.IsScript(last) || strings.ContainsRune("/\u2044", last)
	for _, r := range s {
		if low := number.Subscript(r); into && low != 0 {
			r = low
		}
		t.b.WriteRune(r)
	}
}

func (t *htmlText) last() rune {
	r, _ := utf8.DecodeLastRuneInString(t.b.String())
	return r
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }
