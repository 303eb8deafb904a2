package terminal

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"

	"github.com/mattn/go-runewidth"
)

// Fold breaks text into lines of at most width columns, between words where
// it can and inside a word where it must. It is clean by that.
func Fold(text string, width int) []string {
	var lines []string
	for _, part := range strings.Split(text, "\n") {
		lines = append(lines, foldLine(part, width)...)
	}
	return lines
}

func foldLine(text string, width int) []string {
	width = max(width, 1)
	var lines []string
	line := ""
	for _, word := range unbroken(words(text), width) {
		joined := word
		if line != "" {
			joined = line + " " + word
		}
		if runewidth.StringWidth(joined) <= width {
			line = joined
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for runewidth.StringWidth(word) > width {
			head := runewidth.Truncate(word, width, "")
			if head == "" {
				break // a single character wider than the column
			}
			lines = append(lines, head)
			word = word[len(head):]
		}
		line = word
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// unbroken joins a number and its unit, and "p." and its number, to one word where a
// line can hold it.
func unbroken(all []string, width int) []string {
	var out []string
	for _, w := range all {
		last := len(out) - 1
		if last >= 0 && (isUnit(w) && endsInDigit(out[last]) || out[last] == "p." && isDigit(w[0])) && runewidth.StringWidth(out[last]+" "+w) <= width {
			out[last] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// unitSigns are the units that stand behind a number in print.
var unitSigns = []string{"°C", "°F", "%", "d", "h", "min", "µS/cm", "mS/cm", "mg/L", "g/L", "mm", "µm"}

func isUnit(word string) bool {
	return slices.Contains(unitSigns, strings.TrimRight(word, ".,;:?)”’"))
}

func endsInDigit(word string) bool {
	return isDigit(word[len(word)-1])
}

func isDigit(b byte) bool { return '0' <= b && b <= '9' }

// Clean keeps what a paper printed from steering the terminal: control
// characters, and those that turn the direction of print, become blanks.
func Clean(s string) string { return strings.Join(words(s), " ") }

// words are what stands between blanks and control characters. Blanks at which
// no line breaks are part of a word.
func words(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool {
		switch r {
		case '\u00a0', '\u202f': // no-break spaces
			return false
		}
		return unicode.IsControl(r) || unicode.IsSpace(r) || turns(r)
	})
}

// turns reports whether a character turns the direction of what is printed
// behind it (Unicode Standard Annex 9: embeddings, overrides and isolates).
func turns(r rune) bool { return '\u202a' <= r && r <= '\u202e' || '\u2066' <= r && r <= '\u2069' }

// Printable is [Clean] that keeps line ends.
func Printable(s string) string {
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		lines[i] = Clean(l)
	}
	return strings.Join(lines, "\n")
}

// mostSaid is how many characters of a sentence are shown.
const mostSaid = 600

// Sentence puts a sentence into one line that a reader takes in. Where it quotes
// what is longer than that, it is cut in the middle: its end says what to do.
func Sentence(s string) string {
	line := []rune(Clean(strings.ReplaceAll(s, "\n", "; ")))
	if len(line) > mostSaid {
		line = slices.Concat(line[:mostSaid/2], []rune(" … "), line[len(line)-mostSaid/2:])
	}
	return string(line)
}

// Pad fills s with blanks to the given width.
func Pad(s string, width int) string {
	return s + strings.Repeat(" ", max(0, width-runewidth.StringWidth(s)))
}

// Paragraph prints text folded, each line after indent blanks.
func Paragraph(w io.Writer, text string, indent, width int) error {
	var b strings.Builder
	for _, l := range Fold(text, width-indent) {
		b.WriteString(strings.Repeat(" ", indent) + l + "\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// Beside prints columns of lines beside each other, each of the given width, after
// indent blanks.
func Beside(w io.Writer, columns [][]string, indent, width int) error {
	var b strings.Builder
	for l := 0; slices.ContainsFunc(columns, func(c []string) bool { return l < len(c) }); l++ {
		line := strings.Repeat(" ", indent)
		for _, c := range columns {
			cell := ""
			if l < len(c) {
				cell = c[l]
			}
			line += Pad(cell, width+Gap)
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// List prints sentences one below the other under a heading, nothing when
// there are none. One at the margin is a part of its own: a blank line stands
// before it.
func List(w io.Writer, heading string, sentences []string, indent, width int) error {
	if len(sentences) == 0 {
		return nil
	}
	before := strings.Repeat(" ", indent)
	if indent == 0 {
		before = "\n"
	}
	if _, err := fmt.Fprintln(w, before+heading); err != nil {
		return err
	}
	g := &Grid{}
	for _, s := range sentences {
		g.Add("·", s)
	}
	return g.Print(w, indent+2, width)
}

// Say prints one line; what it quotes is cleaned first.
func Say(w io.Writer, format string, args ...any) error {
	clean := make([]any, len(args))
	for i, a := range args {
		if s, ok := a.(string); ok {
			a = Clean(s)
		}
		clean[i] = a
	}
	_, err := fmt.Fprintf(w, format+"\n", clean...)
	return err
}
