package process

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"hatchlore/ingest/pdf"
)

// A frame is what crosses the pipe between parent and reader process: its
// length, a kind, and a body. Character data is most of it, so bodies are
// packed by hand.
type frame struct {
	kind frameKind
	body []byte
}

type frameKind byte

const (
	frameReady   frameKind = 'r' // the engine is up
	frameAsk     frameKind = 'q' // a request, parent to reader
	frameSecond  frameKind = 's' // pdfium refused the file; the other opener is at work
	frameHead    frameKind = 'h' // pages, engine, title
	framePage    frameKind = 'p' // one page's characters
	frameText    frameKind = 't' // one page's witness text
	framePicture frameKind = 'i' // a page's picture as PNG
	frameFault   frameKind = 'f' // the file, or the rest of it, cannot be read
	frameDone    frameKind = 'd' // that was all
)

// maxFrame bounds one frame: a page picture or a page of [pdf.MaxChars] characters.
const maxFrame = 64 << 20

func writeFrame(w *bufio.Writer, kind frameKind, body []byte) error {
	var head [5]byte
	binary.LittleEndian.PutUint32(head[:4], uint32(len(body)))
	head[4] = byte(kind)
	if _, err := w.Write(head[:]); err != nil {
		return err
	}
	if _, err := w.Write(body); err != nil {
		return err
	}
	return w.Flush()
}

// readFrame reads a frame into the room given, as far as that goes.
func readFrame(r io.Reader, room []byte) (frame, error) {
	var head [5]byte
	if _, err := io.ReadFull(r, head[:]); err != nil {
		return frame{}, err
	}
	n := binary.LittleEndian.Uint32(head[:4])
	if n > maxFrame {
		return frame{}, fmt.Errorf("frame of %d bytes is longer than the %d allowed", n, maxFrame)
	}
	body := slices.Grow(room[:0], int(n))[:n]
	if _, err := io.ReadFull(r, body); err != nil {
		return frame{}, err
	}
	return frame{frameKind(head[4]), body}, nil
}

// errFrame is what a truncated or foreign frame body gives.
var errFrame = errors.New("the reader process sent a malformed frame")

// A packer appends values to a frame body.
type packer struct{ b []byte }

func (p *packer) uint(v int)      { p.b = binary.AppendUvarint(p.b, uint64(v)) }
func (p *packer) float(v float32) { p.b = binary.LittleEndian.AppendUint32(p.b, math.Float32bits(v)) }
func (p *packer) text(s string)   { p.uint(len(s)); p.b = append(p.b, s...) }
func (p *packer) byte(v byte)     { p.b = append(p.b, v) }
func (p *packer) floats(v []float32) {
	for _, f := range v {
		p.float(f)
	}
}

// An unpacker takes values off a frame body; after the first shortfall every
// value is zero and bad is set.
type unpacker struct {
	b   []byte
	bad bool
}

func (u *unpacker) take(n int) []byte {
	if u.bad || n < 0 || n > len(u.b) {
		u.bad = true
		return nil
	}
	v := u.b[:n]
	u.b = u.b[n:]
	return v
}

func (u *unpacker) uint() int {
	v, n := binary.Uvarint(u.b)
	if n <= 0 || v > math.MaxInt32 {
		u.bad = true
		return 0
	}
	u.b = u.b[n:]
	return int(v)
}

func (u *unpacker) text() string { return string(u.take(u.uint())) }

func (u *unpacker) byte() byte {
	if v := u.take(1); v != nil {
		return v[0]
	}
	return 0
}

func (u *unpacker) float() float32 {
	if v := u.take(4); v != nil {
		return math.Float32frombits(binary.LittleEndian.Uint32(v))
	}
	return 0
}

// charSize is the packed length of a [pdf.Char].
const charSize = 4 + 6*4 + 2 + 1

// packPage puts a page behind the bytes given.
func packPage(b []byte, pg *pdf.Page) []byte {
	p := packer{slices.Grow(b, 64+len(pg.Err)+charSize*len(pg.Chars))}
	p.uint(pg.Number)
	p.floats([]float32{pg.Width, pg.Height, pg.Pictures})
	p.text(pg.Err)
	p.uint(len(pg.Chars))
	chars := len(p.b)
	p.b = p.b[:chars+charSize*len(pg.Chars)]
	put := func(b []byte, v float32) { binary.LittleEndian.PutUint32(b, math.Float32bits(v)) }
	for i := range pg.Chars {
		c, b := &pg.Chars[i], p.b[chars+i*charSize:chars+(i+1)*charSize]
		binary.LittleEndian.PutUint32(b, uint32(c.Rune))
		put(b[4:], c.Left)
		put(b[8:], c.Top)
		put(b[12:], c.Right)
		put(b[16:], c.Bottom)
		put(b[20:], c.Origin)
		put(b[24:], c.Size)
		binary.LittleEndian.PutUint16(b[28:], uint16(c.Weight))
		b[30] = byte(c.Flags)
	}
	return p.b
}

func unpackPage(body []byte) (pdf.Page, error) {
	u := unpacker{b: body}
	pg := pdf.Page{Number: u.uint(), Width: u.float(), Height: u.float(), Pictures: u.float(), Err: u.text()}
	n := u.uint()
	raw := u.take(n * charSize)
	if u.bad || len(u.b) != 0 {
		return pdf.Page{}, errFrame
	}
	if n > 0 {
		pg.Chars = make([]pdf.Char, n)
	}
	float := func(b []byte) float32 { return math.Float32frombits(binary.LittleEndian.Uint32(b)) }
	for i := range pg.Chars {
		b := raw[i*charSize : (i+1)*charSize]
		pg.Chars[i] = pdf.Char{
			Rune: rune(binary.LittleEndian.Uint32(b)),
			Left: float(b[4:]), Top: float(b[8:]), Right: float(b[12:]), Bottom: float(b[16:]),
			Origin: float(b[20:]), Size: float(b[24:]),
			Weight: int16(binary.LittleEndian.Uint16(b[28:])), Flags: pdf.Flag(b[30]),
		}
	}
	return pg, nil
}

// task is what a request asks of the reader process.
type task byte

const (
	taskRead task = iota
	taskWitness
	taskPicture
)

// request is one job: the characters of a file from a page on, the witness
// text of some pages, or the picture of one.
type request struct {
	task  task
	path  string
	from  int // first page of taskRead, from 1
	dpi   int
	pages []int
}

func (q request) pack() []byte {
	var p packer
	p.byte(byte(q.task))
	p.text(q.path)
	p.uint(q.from)
	p.uint(q.dpi)
	p.uint(len(q.pages))
	for _, n := range q.pages {
		p.uint(n)
	}
	return p.b
}

func unpackRequest(body []byte) (request, error) {
	u := unpacker{b: body}
	q := request{task: task(u.byte()), path: u.text(), from: u.uint(), dpi: u.uint()}
	for n := u.uint(); n > 0 && !u.bad; n-- {
		q.pages = append(q.pages, u.uint())
	}
	if u.bad || len(u.b) != 0 {
		return request{}, errFrame
	}
	return q, nil
}

// head is what is known of a file once it is open.
type head struct {
	pages         int
	engine, title string
}

func (h head) pack() []byte {
	var p packer
	p.uint(h.pages)
	p.text(h.engine)
	p.text(h.title)
	return p.b
}

func unpackHead(body []byte) (head, error) {
	u := unpacker{b: body}
	h := head{u.uint(), u.text(), u.text()}
	if u.bad || len(u.b) != 0 {
		return head{}, errFrame
	}
	return h, nil
}
