package textfile

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"hatchlore/ingest"
	"hatchlore/ingest/number"
)

// maxDepth bounds how deep elements are followed into one another.
const maxDepth = 400

// readHTML reads title, headings, paragraphs, lists and tables; scripts, styles
// and navigation are left out. The page is one page.
func readHTML(d *ingest.Document, data []byte) error {
	if !utf8.Valid(data) || hasMark(data) {
		data = []byte(decode(data))
	}
	root, err := html.Parse(bytes.NewReader(data))
	if err != nil {
		return err
	}
	h := htmlReader{draft: newDraft(d)}
	h.walk(root, 0)
	h.flush(ingest.Paragraph)
	if d.Title == "" {
		d.Title = h.title
	}
	h.endPage()
	return nil
}

type htmlReader struct {
	*draft
	text  strings.Builder // of the block under way
	title string          // of the head element
}

func (h *htmlReader) flush(kind ingest.BlockKind) {
	h.block(kind, h.text.String())
	h.text.Reset()
}

func (h *htmlReader) walk(n *html.Node, depth int) {
	if depth > maxDepth {
		return
	}
	switch n.Type {
	case html.TextNode:
		h.text.WriteString(n.Data)
		return
	case html.ElementNode:
		if h.element(n, depth) {
			return
		}
	}
	h.children(n, depth)
}

func (h *htmlReader) children(n *html.Node, depth int) {
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		h.walk(c, depth+1)
	}
}

// element handles what is more than a wrapper; it reports whether the element
// is done with.
func (h *htmlReader) element(n *html.Node, depth int) bool {
	switch n.DataAtom {
	case atom.Script, atom.Style, atom.Nav, atom.Noscript, atom.Template, atom.Svg, atom.Iframe, atom.Form, atom.Button:
		return true
	case atom.Title:
		if h.title == "" {
			h.title = strings.Join(strings.Fields(content(n, 0)), " ")
		}
		return true
	case atom.Br:
		h.text.WriteByte(' ')
	case atom.Sup, atom.Sub:
		h.script(n)
		return true
	case atom.H1, atom.H2, atom.H3, atom.H4, atom.H5, atom.H6:
		h.flush(ingest.Paragraph)
		h.children(n, depth)
		level := int(n.Data[1] - '0')
		h.flush(headingKind(h.doc, level))
		return true
	case atom.Li, atom.Dd:
		h.flush(ingest.Paragraph)
		h.children(n, depth)
		h.flush(ingest.ListItem)
		return true
	case atom.Figcaption, atom.Caption:
		h.flush(ingest.Paragraph)
		h.children(n, depth)
		h.flush(ingest.Caption)
		return true
	case atom.Table:
		h.flush(ingest.Paragraph)
		h.tableElement(n, depth)
		return true
	case atom.P, atom.Div, atom.Section, atom.Article, atom.Blockquote, atom.Pre, atom.Ul, atom.Ol, atom.Dl, atom.Dt,
		atom.Header, atom.Footer, atom.Main, atom.Aside, atom.Address, atom.Figure, atom.Hr, atom.Body:
		h.flush(ingest.Paragraph)
		h.children(n, depth)
		h.flush(ingest.Paragraph)
		return true
	}
	return false
}

// script writes superscript digits as such, so that a power does not become
// part of a number.
func (h *htmlReader) script(n *html.Node) {
	for _, r := range content(n, 0) {
		if s := number.Superscript(r); n.DataAtom == atom.Sup && s != 0 {
			r = s
		}
		h.text.WriteRune(r)
	}
}

// content returns all text under a node.
func content(n *html.Node, depth int) string {
	if n.Type == html.TextNode {
		return n.Data
	}
	if depth > maxDepth || n.DataAtom == atom.Script || n.DataAtom == atom.Style {
		return ""
	}
	var b strings.Builder
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		b.WriteString(content(c, depth+1))
	}
	return b.String()
}

// tableElement writes a table's caption and rows. A table used for layout,
// with other tables in it, is a wrapper.
func (h *htmlReader) tableElement(n *html.Node, depth int) {
	if find(n, atom.Table, 0) {
		h.children(n, depth)
		h.flush(ingest.Paragraph)
		return
	}
	t := htmlTable{}
	t.collect(n, 0)
	if t.caption != "" {
		h.block(ingest.Caption, t.caption)
	}
	if len(t.rows) > 0 {
		h.table(t.rows, t.heads)
	}
}

// find reports whether there is such an element below n.
func find(n *html.Node, a atom.Atom, depth int) bool {
	for c := n.FirstChild; c != nil && depth < maxDepth; c = c.NextSibling {
		if c.DataAtom == a || find(c, a, depth+1) {
			return true
		}
	}
	return false
}

type htmlTable struct {
	caption string
	rows    [][]string
	heads   int
}

func (t *htmlTable) collect(n *html.Node, depth int) {
	for c := n.FirstChild; c != nil && depth < maxDepth; c = c.NextSibling {
		switch c.DataAtom {
		case atom.Caption:
			t.caption = content(c, 0)
		case atom.Tr:
			t.row(c)
		default:
			t.collect(c, depth+1)
		}
	}
}

func (t *htmlTable) row(n *html.Node) {
	var cells []string
	head := true
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		if c.DataAtom == atom.Th || c.DataAtom == atom.Td {
			head = head && c.DataAtom == atom.Th
			cells = append(cells, content(c, 0))
		}
	}
	if len(cells) == 0 {
		return
	}
	if head && t.heads == len(t.rows) {
		t.heads++
	}
	t.rows = append(t.rows, cells)
}
