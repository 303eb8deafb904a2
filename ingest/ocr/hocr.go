package ocr

import (
	"bytes"
	"encoding/xml"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Box is a rectangle in pixels of the picture, from its upper left corner.
type Box struct{ Left, Top, Right, Bottom float64 }

// Line is one line read from a picture.
type Line struct {
	Box
	Slope     float64 // of the baseline: pixels down for each pixel to the right
	Base      float64 // the baseline at the left edge, from the top of the picture
	Size      float64 // height of the type with ascenders and descenders, pixels
	Paragraph int     // counts paragraphs over the page
	Words     []Word
}

// Word is one word of a line. Confidence is tesseract's own, 0 to 100; 100 where it
// gives none.
type Word struct {
	Box
	Letters    []Letter
	Confidence float64
}

// Letter is one character. Confidence is tesseract's own, 0 to 100.
type Letter struct {
	Box
	Rune       rune
	Confidence float64
}

// Text returns the word's characters.
func (w Word) Text() string {
	var b strings.Builder
	for _, l := range w.Letters {
		b.WriteRune(l.Rune)
	}
	return b.String()
}

// parseHOCR reads tesseract's output in the hOCR form (hOCR 1.2, kba.github.io/hocr-spec):
// ocr_line and its kin with baseline and x_size, ocrx_word, ocrx_cinfo. What is
// not whole is passed over, and an output that breaks off is read up to there.
func parseHOCR(data []byte) []Line {
	p := hocrParser{}
	d := xml.NewDecoder(bytes.NewReader(data))
	d.Strict, d.Entity = false, xml.HTMLEntity
	for {
		token, err := d.Token()
		if err != nil {
			return p.finish()
		}
		switch t := token.(type) {
		case xml.StartElement:
			p.start(t)
		case xml.EndElement:
			p.letter = false
		case xml.CharData:
			if p.letter {
				p.take(string(t))
			}
		}
	}
}

type hocrParser struct {
	lines     []Line
	paragraph int
	letter    bool   // inside the element of a letter
	of        Letter // its box and confidence
}

// start works in an element by its class.
func (p *hocrParser) start(t xml.StartElement) {
	p.letter = false
	class, title := attribute(t, "class"), properties(attribute(t, "title"))
	switch class {
	case "ocr_par":
		p.paragraph++
	case "ocr_line", "ocr_header", "ocr_caption", "ocr_textfloat":
		if l, ok := newLine(title); ok {
			l.Paragraph = p.paragraph
			p.lines = append(p.lines, l)
		}
	case "ocrx_word":
		if box, ok := boxOf(title["bbox"]); ok && len(p.lines) > 0 {
			l := &p.lines[len(p.lines)-1]
			w := Word{Box: box, Confidence: 100}
			if conf := title["x_wconf"]; len(conf) > 0 {
				w.Confidence = conf[0]
			}
			l.Words = append(l.Words, w)
		}
	case "ocrx_cinfo":
		box, ok := boxOf(title["x_bboxes"])
		if conf := title["x_conf"]; ok && len(conf) > 0 {
			p.letter, p.of = true, Letter{Box: box, Confidence: conf[0]}
		}
	}
}

// take adds a letter to the word under way. A letter of several characters
// (a ligature that tesseract spells out) shares one box.
func (p *hocrParser) take(text string) {
	if len(p.lines) == 0 {
		return
	}
	l := &p.lines[len(p.lines)-1]
	if len(l.Words) == 0 {
		return
	}
	w := &l.Words[len(l.Words)-1]
	text = strings.TrimSpace(text)
	n := float64(utf8.RuneCountInString(text))
	i := 0.0
	for _, r := range text {
		x := p.of
		x.Rune = r
		x.Left, x.Right = p.of.Left+(p.of.Right-p.of.Left)*i/n, p.of.Left+(p.of.Right-p.of.Left)*(i+1)/n
		w.Letters = append(w.Letters, x)
		i++
	}
}

// finish drops words and lines without letters.
func (p *hocrParser) finish() []Line {
	var out []Line
	for _, l := range p.lines {
		words := l.Words[:0]
		for _, w := range l.Words {
			if len(w.Letters) > 0 {
				words = append(words, w)
			}
		}
		if l.Words = words; len(words) > 0 {
			out = append(out, l)
		}
	}
	return out
}

func attribute(t xml.StartElement, name string) string {
	for _, a := range t.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// properties reads a title: names with numbers, parted by semicolons. Other
// values, such as the file's name, are left out.
func properties(title string) map[string][]float64 {
	out := map[string][]float64{}
	for property := range strings.SplitSeq(title, ";") {
		fields := strings.Fields(property)
		if len(fields) == 0 {
			continue
		}
		var numbers []float64
		for _, f := range fields[1:] {
			n, err := strconv.ParseFloat(f, 64)
			if err != nil || math.IsNaN(n) || math.Abs(n) > 1<<20 {
				numbers = nil
				break
			}
			numbers = append(numbers, n)
		}
		out[fields[0]] = numbers
	}
	return out
}

func boxOf(n []float64) (Box, bool) {
	if len(n) != 4 || n[0] < 0 || n[1] < 0 || n[2] < n[0] || n[3] < n[1] {
		return Box{}, false
	}
	return Box{n[0], n[1], n[2], n[3]}, true
}

// newLine reads a line's own properties. The baseline is given from the lower
// left corner of the box.
func newLine(title map[string][]float64) (Line, bool) {
	box, ok := boxOf(title["bbox"])
	if !ok {
		return Line{}, false
	}
	l := Line{Box: box, Base: box.Bottom, Size: box.Bottom - box.Top}
	if b := title["baseline"]; len(b) == 2 {
		l.Slope, l.Base = b[0], box.Bottom+b[1]
	}
	if s := title["x_size"]; len(s) == 1 && s[0] > 0 {
		l.Size = s[0]
	}
	return l, true
}
