package textfile

import (
	"bytes"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"hatchlore/ingest"
	"hatchlore/ingest/charset"
)

// maxDepth bounds how deep elements are followed into one another.
const maxDepth = 400

// readHTML reads title, headings, paragraphs, lists and tables; what a browser does
// not show, and navigation, are left out. The page is one page.
func readHTML(d *ingest.Document, data []byte) error {
	if !charset.IsUnicode(data) {
		data = []byte(charset.Text(data))
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
	text  htmlText // of the block under way
	title string   // of the head element
}

func (h *htmlReader) flush(kind ingest.BlockKind) {
	h.block(kind, h.text.b.String())
	h.text.b.Reset()
}

func (h *htmlReader) walk(n *html.Node, depth int) {
	if depth > maxDepth || unseen(n) {
		return
	}
	switch n.Type {
	case html.TextNode:
		h.text.write(n.Data)
		return
	case html.ElementNode:
		if h.text.inline(n, depth) || h.element(n, depth) {
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
	case atom.Nav, atom.Form, atom.Button:
		return true
	case atom.Title:
		if h.title == "" {
			h.title = spaced(textOf(n))
		}
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
	}
	if isBlock(n) {
		h.flush(ingest.Paragraph)
		h.children(n, depth)
		h.flush(ingest.Paragraph)
		return true
	}
	return false
}

// tableElement writes a table's caption and rows. A table used for layout,
// with other tables in it, is a wrapper.
func (h *htmlReader) tableElement(n *html.Node, depth int) {
	if find(n, atom.Table, 0) {
		h.children(n, depth)
		h.flush(ingest.Paragraph)
		return
	}
	t := readTable(n)
	if t.caption != "" {
		h.block(ingest.Caption, t.caption)
	}
	rows := make([][]cell, len(t.rows))
	for i, r := range t.rows {
		rows[i] = t.cellsOf(r, i < t.heads)
	}
	h.table(rows, t.heads)
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
