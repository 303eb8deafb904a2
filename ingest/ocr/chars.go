package ocr

import (
	"math"
	"slices"
	"unicode"

	"hatchlore/ingest/pdf"
)

// pointsPerInch is the PDF unit (ISO 32000-1, 8.3.2.3: 1/72 inch).
const pointsPerInch = 72

// The confidence under which a letter is doubtful, and a word with all its letters.
// Tesseract gives 96 to 99.6 to the letters of clean print and hardly less to those
// that it misreads; of its words those misread have less than 90, and few others
// (tried on worn pictures of typeset pages).
const (
	unsure     = 85
	unsureWord = 90
)

// Chars lays lines out as characters in points, a generated blank between
// words of a line and a generated line end between lines, so that the rest of
// the reader need not know that they come from a picture. A page that was laid
// askew on the glass is set level; a line's type has the size of most of the
// page's lines near its own; a digit set small and high stands raised. Letters
// of words of which tesseract is unsure carry [pdf.Unsure].
func Chars(lines []Line, dpi int) []pdf.Char {
	page := page{scale: pointsPerInch / float64(dpi), slope: slope(lines), sizes: typeSizes(lines)}
	var out []pdf.Char
	for i := range lines {
		for k := range lines[i].Words {
			if len(out) > 0 {
				gap := ' '
				if k == 0 {
					gap = '\n'
				}
				out = append(out, blankAfter(out[len(out)-1], gap))
			}
			for _, x := range inStep(lines[i].Words[k]) {
				c := page.char(i, &lines[i], x)
				if x.Confidence < unsure || lines[i].Words[k].Confidence < unsureWord {
					c.Flags |= pdf.Unsure
				}
				out = append(out, c)
			}
		}
	}
	return out
}

// inStep returns the letters of a word from left to right. Tesseract sometimes
// gives a letter a box that begins before, or far inside, that of the letter on
// its left; the word's width is then shared evenly.
func inStep(w Word) []Letter {
	const overlap = 0.6 // of the word's height
	sound := true
	for i := 1; i < len(w.Letters); i++ {
		a, b := w.Letters[i-1], w.Letters[i]
		sound = sound && b.Left >= a.Left && a.Right-b.Left <= overlap*(w.Bottom-w.Top)
	}
	if sound {
		return w.Letters
	}
	out := slices.Clone(w.Letters)
	step := (w.Right - w.Left) / float64(len(out))
	for i := range out {
		out[i].Left, out[i].Right = w.Left+step*float64(i), w.Left+step*float64(i+1)
	}
	return out
}

// page is what the letters of a page share.
type page struct {
	scale float64 // points a pixel
	slope float64
	sizes []float64 // of each line's type, pixels
}

func (p *page) char(line int, l *Line, x Letter) pdf.Char {
	size := p.sizes[line]
	base := l.Base + (x.Left-l.Left)*l.Slope
	if raised(x, base, size) {
		base, size = x.Bottom, min(size*0.7, (x.Bottom-x.Top)/digitHeight)
	}
	down := p.slope * x.Left
	return pdf.Char{
		Rune: x.Rune, Size: float32(size * p.scale),
		Left: float32(x.Left * p.scale), Right: float32(x.Right * p.scale),
		Top: float32((x.Top - down) * p.scale), Bottom: float32((x.Bottom - down) * p.scale),
		Origin: float32((base - down) * p.scale),
	}
}

// digitHeight is the height of a digit in sizes of the type.
const digitHeight = 0.65

// raised reports whether a digit stands high and small, as an exponent does. A
// box that was cut wrongly is rarely both.
func raised(x Letter, base, size float64) bool {
	return unicode.IsDigit(x.Rune) && base-x.Bottom > 0.18*size && x.Bottom-x.Top < 0.8*digitHeight*size
}

func blankAfter(c pdf.Char, r rune) pdf.Char {
	c.Rune, c.Left = r, c.Right
	c.Flags = pdf.Generated
	return c
}

// slope is how far the page is askew: the median slope of its longer lines.
func slope(lines []Line) float64 {
	var all []float64
	for _, l := range lines {
		if l.Right-l.Left > 10*l.Size && math.Abs(l.Slope) < 0.1 {
			all = append(all, l.Slope)
		}
	}
	if len(all) == 0 {
		return 0
	}
	slices.Sort(all)
	return all[len(all)/2]
}

// near is how much lines of one type may differ in measured size.
const near = 0.13

// typeSizes gives every line one of the few sizes that the page is set in.
// Tesseract measures each line by the letters that it happens to have, and is
// a tenth out on many. So a line first takes the size of its paragraph; then
// the size of most letters of the page takes all lines about it, the size of
// most of the rest those about that, and so on.
func typeSizes(lines []Line) []float64 {
	sizes, all := make([]float64, len(lines)), make([]int, len(lines))
	paragraphs := map[int][]int{}
	for i, l := range lines {
		sizes[i], all[i] = l.Size, i
		paragraphs[l.Paragraph] = append(paragraphs[l.Paragraph], i)
	}
	for _, p := range paragraphs {
		gather(lines, sizes, p)
	}
	for len(all) > 0 {
		all = gather(lines, sizes, all)
	}
	return sizes
}

// gather gives the lines about the commonest size of those named this size,
// and returns the others.
func gather(lines []Line, sizes []float64, which []int) []int {
	var each []float64
	for _, i := range which {
		for range max(1, letters(lines[i])) {
			each = append(each, sizes[i])
		}
	}
	slices.Sort(each)
	size := each[len(each)/2]
	var others []int
	for _, i := range which {
		if math.Abs(sizes[i]-size) > near*max(sizes[i], size) {
			others = append(others, i)
		} else {
			sizes[i] = size
		}
	}
	return others
}

func letters(l Line) int {
	n := 0
	for _, w := range l.Words {
		n += len(w.Letters)
	}
	return n
}
