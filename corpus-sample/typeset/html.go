package main

import (
	"bytes"
	"fmt"
	"html"
	"strings"
	"text/template"
)

// setHTML writes a paper as a page for a browser's PDF printer.
func setHTML(p *Paper) ([]byte, error) {
	t, err := template.New("").Funcs(template.FuncMap{"html": markup, "css": cssString}).
		ParseFS(layouts, "layouts/html.tmpl", "layouts/"+p.Field("layout")+".tmpl")
	if err != nil {
		return nil, err
	}
	hyph, err := newHyphenator(p.Field("lang"))
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = t.ExecuteTemplate(&out, p.Field("layout")+".tmpl", struct {
		*Paper
		Body string
	}{p, htmlBody(p, hyph)})
	return out.Bytes(), err
}

func htmlBody(p *Paper, hyph hyphenator) string {
	var b strings.Builder
	for _, blk := range p.Blocks {
		switch blk.Kind {
		case Heading:
			fmt.Fprintf(&b, "<h2>%s</h2>\n", markup(blk.Text))
		case Subheading:
			fmt.Fprintf(&b, "<h3>%s</h3>\n", markup(blk.Text))
		case Table:
			b.WriteString(htmlTable(blk))
		case Figure:
			b.WriteString(htmlFigure(blk))
		default:
			fmt.Fprintf(&b, "<p class=%q>%s</p>\n", blk.Kind, markup(hyph.text(blk.Text)))
		}
	}
	return b.String()
}

func htmlTable(blk Block) string {
	var b strings.Builder
	label, words := blk.Caption()
	fmt.Fprintf(&b, "<div class=float><p class=caption><b>%s</b> %s</p><table>\n", label, markup(words))
	for i, row := range blk.Rows {
		b.WriteString("<tr>")
		tag := "td"
		if i == 0 {
			tag = "th"
		}
		for _, cell := range row {
			fmt.Fprintf(&b, "<%s>%s</%s>", tag, markup(cell), tag)
		}
		b.WriteString("</tr>\n")
	}
	b.WriteString("</table></div>\n")
	return b.String()
}

func htmlFigure(blk Block) string {
	const w, h = 240.0, 130.0
	a := blk.Axes
	var b strings.Builder
	b.WriteString(`<div class=float><svg viewBox="-30 -8 282 172" width="100%" font-size="9">`)
	fmt.Fprintf(&b, `<rect width="%g" height="%g" fill="none" stroke="#000" stroke-width=".8"/>`, w, h)
	for i := 0; i <= 4; i++ {
		x, y := w*float64(i)/4, h-h*float64(i)/4
		fmt.Fprintf(&b, `<path d="M%g %gv-3M0 %gh3" stroke="#000"/>`, x, h, y)
		fmt.Fprintf(&b, `<text x="%g" y="%g" text-anchor="middle">%g</text><text x="-4" y="%g" text-anchor="end">%g</text>`,
			x, h+11, a.XMax*float64(i)/4, y+3, a.YMax*float64(i)/4)
	}
	fmt.Fprintf(&b, `<text x="%g" y="%g" text-anchor="middle">%s</text><text x="6" y="11">%s</text>`, w/2, h+24, html.EscapeString(a.XLabel), html.EscapeString(a.YLabel))
	for s, series := range a.Series {
		var path strings.Builder
		for i, q := range series {
			x, y := w*q.X/a.XMax, h-h*q.Y/a.YMax
			fmt.Fprintf(&path, "%s%.1f %.1f", map[bool]string{true: "M", false: "L"}[i == 0], x, y)
			fmt.Fprintf(&b, `<circle cx="%.1f" cy="%.1f" r="3" stroke="#000" fill="%s"/>`, x, y, []string{"#000", "#fff", "#999"}[s%3])
		}
		fmt.Fprintf(&b, `<path d="%s" fill="none" stroke="#000"/>`, path.String())
	}
	label, words := blk.Caption()
	fmt.Fprintf(&b, "</svg><p class=caption><b>%s</b> %s</p></div>\n", label, markup(words))
	return b.String()
}

// markup turns marked-up words into HTML: *italic*, CO~2~ with a lowered 2.
func markup(s string) string {
	s = html.EscapeString(s)
	return pairs(pairs(s, "*", "em"), "~", "sub")
}

func pairs(s, mark, tag string) string {
	var b strings.Builder
	for i, part := range strings.Split(s, mark) {
		if i%2 == 1 {
			part = "<" + tag + ">" + part + "</" + tag + ">"
		}
		b.WriteString(part)
	}
	return b.String()
}

// cssString makes words safe inside a quoted CSS string.
func cssString(s string) string {
	return strings.NewReplacer(`\`, `\\`, `"`, `\"`, "<", `\3c `).Replace(plain(s))
}
