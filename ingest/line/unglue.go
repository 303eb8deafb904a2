package line

import "regexp"

// glued matches a number with its unit set against it. Units of one letter are
// left alone: 16S and 2n are words of their own.
var glued = regexp.MustCompile(`([0-9])((?:mm|cm|km|nm|[µu]m|ml|mL|[µu]l|[µu]L|mg|[µu]g|kg|mM|[µu]M|nM|ppt|ppm|psu|PSU|mS|[µu]S|kPa|hPa|Pa|min|hrs?|°C|°F|days?|weeks?|months?|years?)(?:[^\pL\pN]|$))`)

// unglue puts a space between a number and its unit, and moves the marks and cells
// with the text.
func unglue(s *Strip) {
	if !touches(s.Text) {
		return
	}
	found := glued.FindAllStringSubmatchIndex(s.Text, -1)
	if found == nil {
		return
	}
	var b []byte
	from := 0
	shift := make([]int, 0, len(found))
	for _, m := range found {
		cut := m[4]
		b = append(b, s.Text[from:cut]...)
		b = append(b, ' ')
		from = cut
		shift = append(shift, cut)
	}
	s.Text = string(append(b, s.Text[from:]...))
	move := func(pos int, end bool) int {
		n := 0
		for _, cut := range shift {
			if cut < pos || cut == pos && !end {
				n++
			}
		}
		return pos + n
	}
	for i := range s.Marks {
		s.Marks[i].Start, s.Marks[i].End = move(s.Marks[i].Start, false), move(s.Marks[i].End, true)
	}
	for i := range s.Cells {
		s.Cells[i].Start, s.Cells[i].End = move(s.Cells[i].Start, false), move(s.Cells[i].End, true)
	}
}

// touches reports whether a digit stands right before something that is neither
// a digit nor a blank nor the usual punctuation: few lines have one, and the
// pattern is slow.
func touches(text string) bool {
	for i := 1; i < len(text); i++ {
		if d := text[i-1]; d >= '0' && d <= '9' && (text[i] >= 'A' && text[i] != '[' && text[i] != ']') {
			return true
		}
	}
	return false
}
