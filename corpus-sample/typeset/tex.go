package main

import (
	"bytes"
	"embed"
	"fmt"
	"strings"
	"text/template"
)

//go:embed layouts
var layouts embed.FS

func (p *Paper) usesTeX() bool { return strings.HasPrefix(p.Field("layout"), "tex-") }

// setTeX writes a paper as LaTeX in its layout.
func setTeX(p *Paper) ([]byte, error) {
	t, err := template.New("").Delims("<<", ">>").Funcs(template.FuncMap{"tex": tex}).
		ParseFS(layouts, "layouts/tex.tmpl", "layouts/"+p.Field("layout")+".tmpl")
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = t.ExecuteTemplate(&out, p.Field("layout")+".tmpl", struct {
		*Paper
		Body string
	}{p, texBody(p)})
	return out.Bytes(), err
}

func texBody(p *Paper) string {
	var b strings.Builder
	for i, blk := range p.Blocks {
		switch blk.Kind {
		case Heading:
			if i > 0 && p.Blocks[i-1].Kind == Reference {
				b.WriteString("\\refend\n")
			}
			fmt.Fprintf(&b, "\\heading{%s}\n", tex(blk.Text))
		case Subheading:
			fmt.Fprintf(&b, "\\subheading{%s}\n", tex(blk.Text))
		case Abstract:
			fmt.Fprintf(&b, "\\abstractpar{%s}\n\n", tex(blk.Text))
		case Reference:
			fmt.Fprintf(&b, "\\refitem{%s}\n\n", tex(blk.Text))
		case Paragraph:
			fmt.Fprintf(&b, "%s\n\n", tex(blk.Text))
		case Table:
			b.WriteString(texTable(blk))
		case Figure:
			b.WriteString(texFigure(blk))
		}
	}
	return b.String()
}

// texTable sets a table over one column of the page, or over both when its
// longest cells would not fit one.
func texTable(blk Block) string {
	var b strings.Builder
	env := "table"
	if tableWidth(blk.Rows) > 44 {
		env = "table*"
	}
	label, words := blk.Caption()
	fmt.Fprintf(&b, "\\begin{%s}[tbp]\\small\n\\captionline{%s}{%s}\n\\centering\\begin{tabular}{l%s}\\hline\n",
		env, label, tex(words), strings.Repeat("r", len(blk.Rows[0])-1))
	for i, row := range blk.Rows {
		for j, cell := range row {
			if j > 0 {
				b.WriteString(" & ")
			}
			b.WriteString(tex(cell))
		}
		b.WriteString(" \\\\\n")
		if i == 0 {
			b.WriteString("\\hline\\rule{0pt}{2.5ex}")
		}
	}
	fmt.Fprintf(&b, "\\hline\\end{tabular}\n\\end{%s}\n\n", env)
	return b.String()
}

// tableWidth is a table's width in letters, with the gaps between columns.
func tableWidth(rows [][]string) int {
	sum := 0
	for j := range rows[0] {
		widest := 0
		for _, row := range rows {
			widest = max(widest, len([]rune(plain(row[j]))))
		}
		sum += widest + 2
	}
	return sum
}

// texFigure draws a figure in LaTeX's own picture environment, 60 × 40 mm.
func texFigure(blk Block) string {
	const w, h = 60.0, 36.0
	a := blk.Axes
	var b strings.Builder
	b.WriteString("\\begin{figure}[tbp]\\centering\\setlength{\\unitlength}{1mm}\\footnotesize\n\\begin{picture}(72,46)(-10,-9)\n")
	fmt.Fprintf(&b, "\\put(0,0){\\framebox(%g,%g){}}\n", w, h)
	for i := 0; i <= 4; i++ {
		x, y := w*float64(i)/4, h*float64(i)/4
		fmt.Fprintf(&b, "\\put(%g,0){\\line(0,1){1}}\\put(%g,-3.2){\\makebox(0,0){%g}}\n", x, x, a.XMax*float64(i)/4)
		fmt.Fprintf(&b, "\\put(0,%g){\\line(1,0){1}}\\put(-1,%g){\\makebox(0,0)[r]{%g}}\n", y, y, a.YMax*float64(i)/4)
	}
	fmt.Fprintf(&b, "\\put(%g,-7){\\makebox(0,0){%s}}\n\\put(1.5,%g){\\makebox(0,0)[l]{%s}}\n", w/2, tex(a.XLabel), h-2.5, tex(a.YLabel))
	for s, series := range a.Series {
		mark := []string{"\\circle*{1.4}", "\\circle{1.6}", "\\framebox(1.2,1.2){}"}[s%3]
		for i, q := range series {
			x, y := w*q.X/a.XMax, h*q.Y/a.YMax
			fmt.Fprintf(&b, "\\put(%.2f,%.2f){%s}\n", x, y, mark)
			if i > 0 {
				x0, y0 := w*series[i-1].X/a.XMax, h*series[i-1].Y/a.YMax
				fmt.Fprintf(&b, "\\qbezier(%.2f,%.2f)(%.2f,%.2f)(%.2f,%.2f)\n", x0, y0, (x+x0)/2, (y+y0)/2, x, y)
			}
		}
	}
	label, words := blk.Caption()
	fmt.Fprintf(&b, "\\end{picture}\n\\captionline{%s}{%s}\n\\end{figure}\n\n", label, tex(words))
	return b.String()
}

var texMarks = strings.NewReplacer(
	`\`, `\textbackslash{}`, "%", `\%`, "&", `\&`, "_", `\_`, "#", `\#`, "$", `\$`,
	"µ", `\textmu{}`, "°", `\textdegree{}`, "±", `\textpm{}`, "−", `\textminus{}`, "×", `\texttimes{}`,
	"≥", `$\geq$`, "≤", `$\leq$`, "‰", `\textperthousand{}`, "\u00a0", "\u007e",
	"–", "--", "—", "---", "“", "``", "”", "''", "‘", "`", "’", "'", "„", `\quotedblbase{}`,
	"«", `\guillemotleft{}`, "»", `\guillemotright{}`, "½", `\textonehalf{}`, "χ", `$\chi$`, "²", `\texttwosuperior{}`,
)

// tex turns marked-up words into LaTeX: *italic*, CO~2~ with a lowered 2.
func tex(s string) string {
	var b strings.Builder
	for i, part := range strings.Split(s, "*") {
		if i%2 == 1 {
			b.WriteString(`\emph{` + texLowered(part) + `}`)
		} else {
			b.WriteString(texLowered(part))
		}
	}
	return b.String()
}

func texLowered(s string) string {
	var b strings.Builder
	for i, part := range strings.Split(s, "~") {
		if i%2 == 1 {
			b.WriteString(`\textsubscript{` + texMarks.Replace(part) + `}`)
		} else {
			b.WriteString(texMarks.Replace(part))
		}
	}
	return b.String()
}
