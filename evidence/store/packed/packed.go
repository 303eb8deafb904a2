// Package packed keeps the pages of papers small: their text deflated, and their
// lines, blocks and marks as rows of numbers.
//
// It refuses to guess: a value that is damaged is told as such, and expands to no
// more than a bound.
package packed

import (
	"bytes"
	"compress/flate"
	"encoding/json"
	"fmt"
	"io"
	"math"

	"hatchlore/evidence/store/disk"
	"hatchlore/ingest"
)

// A packed value is one byte that says how the rest is written.
const (
	asIs     = 0
	deflated = 1
)

// maxUnpacked bounds what a damaged value may expand to.
const maxUnpacked = 256 << 20

// Packer packs pages; one goroutine uses it at a time.
type Packer struct {
	buf bytes.Buffer
	w   *flate.Writer
}

// New returns a Packer.
func New() *Packer {
	p := &Packer{}
	p.w, _ = flate.NewWriter(&p.buf, flate.DefaultCompression) // fails for an unknown level only
	return p
}

func (p *Packer) pack(b []byte) ([]byte, error) {
	p.buf.Reset()
	p.buf.WriteByte(deflated)
	p.w.Reset(&p.buf)
	if _, err := p.w.Write(b); err != nil {
		return nil, err
	}
	if err := p.w.Close(); err != nil {
		return nil, err
	}
	if p.buf.Len() > len(b) {
		return append([]byte{asIs}, b...), nil
	}
	return bytes.Clone(p.buf.Bytes()), nil
}

func unpack(b []byte) ([]byte, error) {
	if len(b) == 0 {
		return nil, fmt.Errorf("%w (an empty packed value)", disk.ErrDamaged)
	}
	switch b[0] {
	case asIs:
		return b[1:], nil
	case deflated:
		out, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(b[1:])), maxUnpacked))
		if err != nil {
			return nil, fmt.Errorf("%w (unpacking: %v)", disk.ErrDamaged, err)
		}
		return out, nil
	}
	return nil, fmt.Errorf("%w (packed in a way %d that is not known)", disk.ErrDamaged, b[0])
}

// layout is the compact form of a page's lines, blocks and marks: rows of
// numbers rather than named fields, geometry in hundredths of a point.
type layout struct {
	Lines  [][7]int `json:"l,omitempty"` // start, end, x, y, width, size, bold
	Blocks []block  `json:"b,omitempty"`
	Marks  []mark   `json:"m,omitempty"`
}

type block struct {
	Kind    ingest.BlockKind `json:"k"`
	Section ingest.Section   `json:"s,omitempty"`
	Span    [2]int           `json:"p"`
	Rows    []row            `json:"r,omitempty"`
}

type row struct {
	Head  bool     `json:"h,omitempty"`
	Cells [][2]int `json:"c"`
}

type mark struct {
	Kind ingest.MarkKind `json:"k"`
	Span [2]int          `json:"p"`
	Raw  string          `json:"r,omitempty"`
}

func hundredths(v float64) int { return int(math.Round(v * 100)) }

func layoutOf(p ingest.Page) ([]byte, error) {
	var l layout
	for _, n := range p.Lines {
		bold := 0
		if n.Bold {
			bold = 1
		}
		l.Lines = append(l.Lines, [7]int{n.Start, n.End, hundredths(n.X), hundredths(n.Y), hundredths(n.Width), hundredths(n.Size), bold})
	}
	for _, b := range p.Blocks {
		out := block{Kind: b.Kind, Section: b.Section, Span: [2]int{b.Start, b.End}}
		for _, r := range b.Rows {
			cells := make([][2]int, 0, len(r.Cells))
			for _, c := range r.Cells {
				cells = append(cells, [2]int{c.Start, c.End})
			}
			out.Rows = append(out.Rows, row{r.Head, cells})
		}
		l.Blocks = append(l.Blocks, out)
	}
	for _, m := range p.Marks {
		l.Marks = append(l.Marks, mark{m.Kind, [2]int{m.Start, m.End}, m.Raw})
	}
	return json.Marshal(l)
}

func (l layout) into(p *ingest.Page) {
	for _, n := range l.Lines {
		p.Lines = append(p.Lines, ingest.Line{Start: n[0], End: n[1], X: float64(n[2]) / 100, Y: float64(n[3]) / 100,
			Width: float64(n[4]) / 100, Size: float64(n[5]) / 100, Bold: n[6] != 0})
	}
	for _, b := range l.Blocks {
		out := ingest.Block{Kind: b.Kind, Section: b.Section, Start: b.Span[0], End: b.Span[1]}
		for _, r := range b.Rows {
			var cells []ingest.Cell
			for _, c := range r.Cells {
				cells = append(cells, ingest.Cell{Start: c[0], End: c[1]})
			}
			out.Rows = append(out.Rows, ingest.Row{Head: r.Head, Cells: cells})
		}
		p.Blocks = append(p.Blocks, out)
	}
	for _, m := range l.Marks {
		p.Marks = append(p.Marks, ingest.Mark{Start: m.Span[0], End: m.Span[1], Kind: m.Kind, Raw: m.Raw})
	}
}

// Page returns the packed forms of a page's text and layout. Its number and how
// it was read are not in them.
func (p *Packer) Page(page ingest.Page) (text, lay []byte, err error) {
	if text, err = p.pack([]byte(page.Text)); err != nil {
		return nil, nil, err
	}
	b, err := layoutOf(page)
	if err != nil {
		return nil, nil, err
	}
	lay, err = p.pack(b)
	return text, lay, err
}

// Into unpacks text and layout into a page.
func Into(page *ingest.Page, text, lay []byte) error {
	b, err := unpack(text)
	if err != nil {
		return err
	}
	page.Text = string(b)
	if b, err = unpack(lay); err != nil {
		return err
	}
	var l layout
	if err := json.Unmarshal(b, &l); err != nil {
		return fmt.Errorf("%w (page layout: %v)", disk.ErrDamaged, err)
	}
	l.into(page)
	return nil
}
