package second

import (
	ledongthuc "github.com/ledongthuc/pdf"

	"hatchlore/ingest/pdf"
)

// content follows a page's drawing operators (ISO 32000-1, 9.4) for the second
// reader and collects what they show. The library has a function for this, but
// looks every character's width up in the file anew: where fonts lie in packed
// object streams, as LaTeX writes them, that unpacks the stream each time.
//
// An operator whose operands are wrong is passed over.
type content struct {
	page  ledongthuc.Page
	fonts map[string]*face
	state textState
	saved []textState
	out   []glyph
}

// textState is the part of the graphics state that places text.
type textState struct {
	ctm, line, text      pdf.Matrix // of the page, of the line's start, of the pen
	font                 *face
	size, space, leading float64
	rise, scale          float64
}

// face is a font as this reader sees it.
type face struct {
	encoding ledongthuc.TextEncoding // nil: none known
	first    int
	widths   []float64
	bold     bool
	italic   bool
}

func newContent(page ledongthuc.Page) *content {
	return &content{page: page, fonts: map[string]*face{}, state: textState{ctm: pdf.Identity, line: pdf.Identity, text: pdf.Identity, scale: 1}}
}

// read follows the page's operators. It panics where the library does.
func (c *content) read() []glyph {
	stream := c.page.V.Key("Contents")
	if stream.Kind() == ledongthuc.Null {
		return nil
	}
	ledongthuc.Interpret(stream, func(stack *ledongthuc.Stack, op string) {
		args := make([]ledongthuc.Value, stack.Len())
		for i := len(args) - 1; i >= 0; i-- {
			args[i] = stack.Pop()
		}
		c.operate(op, args)
	})
	return c.out
}

// operands is how many operands the operators of interest take.
var operands = map[string]int{
	"cm": 6, "q": 0, "Q": 0, "BT": 0, "T*": 0, "Tc": 1, "TD": 2, "Td": 2, "Tf": 2, "\"": 3, "'": 1,
	"Tj": 1, "TJ": 1, "TL": 1, "Tm": 6, "Ts": 1, "Tz": 1,
}

func (c *content) operate(op string, args []ledongthuc.Value) {
	if n, known := operands[op]; !known || len(args) < n {
		return
	}
	s := &c.state
	switch op {
	case "cm":
		s.ctm = matrixOf(args).Then(s.ctm)
	case "q":
		c.saved = append(c.saved, *s)
	case "Q":
		if n := len(c.saved); n > 0 {
			*s, c.saved = c.saved[n-1], c.saved[:n-1]
		}
	case "BT":
		s.line, s.text = pdf.Identity, pdf.Identity
	case "T*":
		c.move(0, -s.leading)
	case "Tc":
		s.space = args[0].Float64()
	case "TD":
		s.leading = -args[1].Float64()
		c.move(args[0].Float64(), args[1].Float64())
	case "Td":
		c.move(args[0].Float64(), args[1].Float64())
	case "Tf":
		s.font, s.size = c.font(args[0].Name()), args[1].Float64()
	case "\"":
		s.space = args[1].Float64()
		c.move(0, -s.leading)
		c.show(args[2].RawString())
	case "'":
		c.move(0, -s.leading)
		c.show(args[0].RawString())
	case "Tj":
		c.show(args[0].RawString())
	case "TJ":
		c.showAll(args[0])
	case "TL":
		s.leading = args[0].Float64()
	case "Tm":
		s.line = matrixOf(args)
		s.text = s.line
	case "Ts":
		s.rise = args[0].Float64()
	case "Tz":
		s.scale = args[0].Float64() / 100
	}
}

func matrixOf(args []ledongthuc.Value) (m pdf.Matrix) {
	for i := range m {
		m[i] = args[i].Float64()
	}
	return m
}

// move starts a line at a distance from the start of the one before.
func (c *content) move(x, y float64) {
	c.state.line = pdf.Matrix{1, 0, 0, 1, x, y}.Then(c.state.line)
	c.state.text = c.state.line
}

// advance moves the pen along the line.
func (c *content) advance(x float64) { c.state.text = pdf.Matrix{1, 0, 0, 1, x, 0}.Then(c.state.text) }

// showAll shows strings with the moves between them.
func (c *content) showAll(array ledongthuc.Value) {
	for i := range array.Len() {
		if x := array.Index(i); x.Kind() == ledongthuc.String {
			c.show(x.RawString())
		} else {
			c.advance(-x.Float64() / 1000 * c.state.size * c.state.scale)
		}
	}
}

func (c *content) show(raw string) {
	s := &c.state
	font := s.font
	if font == nil {
		font = &face{}
	}
	text := raw
	if font.encoding != nil {
		text = font.encoding.Decode(raw)
	}
	i := 0
	for _, r := range text {
		width := 0.0
		if i < len(raw) {
			width = font.width(int(raw[i])) / 1000
		}
		i++
		m := pdf.Matrix{s.size * s.scale, 0, 0, s.size, 0, s.rise}.Then(s.text).Then(s.ctm)
		if r != '\n' && len(c.out) < pdf.MaxChars {
			c.out = append(c.out, glyph{r, m[4], m[5], width * m[0], m[0], font.bold, font.italic})
		}
		c.advance((width*s.size + s.space) * s.scale)
	}
}

// font reads a font of the page, once.
func (c *content) font(name string) *face {
	if f, ok := c.fonts[name]; ok {
		return f
	}
	font := c.page.Font(name)
	f := &face{encoding: font.Encoder(), first: font.FirstChar()}
	f.bold, f.italic = pdf.Face(font.BaseFont())
	widths, last := font.V.Key("Widths"), font.LastChar()
	for code := f.first; code <= last && code < 256 && code-f.first < widths.Len(); code++ {
		f.widths = append(f.widths, widths.Index(code-f.first).Float64())
	}
	c.fonts[name] = f
	return f
}

func (f *face) width(code int) float64 {
	if i := code - f.first; i >= 0 && i < len(f.widths) {
		return f.widths[i]
	}
	return 0
}
