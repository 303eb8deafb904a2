package textfile

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hatchlore/ingest"
	"hatchlore/ingest/ingesttest"
)

// TestHostileText: markup by which a reader is led to print another number than a
// browser shows.
func TestHostileText(t *testing.T) {
	for _, c := range []struct{ name, file, data, want string }{
		{"powers and notes", "a.html", `<p>10<sup>3</sup> eggs, 25<sup>1</sup> °C, 5 mg l<sup>-1</sup>, 20<sup>th</sup> day`, "10³ eggs, 25¹ °C, 5 mg l⁻¹, 20th day"},
		{"lowered digits", "a.html", `<p>CO<sub>2</sub>, 12.5<sub>3</sub> mg, χ<sup>2</sup><sub>3</sub> = 7.8`, "CO2, 12.5₃ mg, χ²₃ = 7.8"},
		{"fractions", "a.html", `<p>2<sup>1</sup>/<sub>2</sub> days, 1<sup>3</sup>&frasl;<sub>4</sub> h, 5<sup>1</sup>/<sub>16</sub> and &frac12; d`, "2½ days, 1¾ h, 5¹/₁₆ and ½ d"},
		{"entities", "a.html", `<p>25&nbsp;&deg;C, &minus;18&thinsp;&deg;C, 5&ndash;10&nbsp;&micro;S, 2&plusmn;1, &lt;5`, "25 °C, −18 °C, 5–10 µS, 2±1, <5"},
		{"groups of digits", "a.html", `<p>1&thinsp;200 µS, 10&nbsp;000 eggs, 12&#8239;345, 3&nbsp;4 and 3&nbsp;4567`, "1\u202F200 µS, 10\u202F000 eggs, 12\u202F345, 3 4 and 3 4567"},
		{"what shows nothing", "a.html", `<p>tempera&shy;ture of 2&#8203;5 °C<wbr> for 3&#8288;0 days`, "temperature of 25 °C for 30 days"},
		{"hidden elements", "a.html", `<p>12 <span hidden>99</span><span style="display: none">98</span><i style="visibility:hidden">97</i><del>96</del><s>95</s>14 °C<!-- 94 --><select><option>93</select>`, "12 14 °C"},
		{"line breaks", "a.html", `<p>12<br>34<br/>56`, "12 34 56"},
		{"a picture of a sign", "a.html", `<p>25<img src=d.gif alt="°">C and 0<img src=p.gif>5 g/l`, "25°C and 0\uFFFD5 g/l"},
		{"formulas", "a.html", `<p>of <math><msup><mn>10</mn><mn>3</mn></msup></math> and 2<math><mfrac><mn>1</mn><mn>2</mn></mfrac></math> d`, "of 10³ and 2 1/2 d"},
		{"cells for layout", "a.html", `<table><tr><td>12<td>34<td><table><tr><td>1<td>2</table></table>`, "12\n\n34\n\n1\t2"},
		{"rows in cells", "a.html", `<table><tr><th>Temp.<br>(°C)<th>Hatched<sup>a</sup> (%)<tr><td><p>12</p><p>14</p><td>45<sup>2</sup><tr><td>10<sup>3</sup><td>6<br>7</table>`,
			"Temp. (°C)\tHatcheda (%)\n12 14\t45²\n10³\t6 7"},
		{"emphasis of digits", "a.md", "On eggs\n===\n3*4*5 and 12_34_56, *12* and **30** days, *F. ficta*", "3*4*5 and 12_34_56, 12 and 30 days, F. ficta"},
		{"raised in Markdown", "a.md", "On eggs\n===\n10^3^ eggs, 10<sup>4</sup>, 25[^1] °C, CO~2~, 5\\*6, 7&nbsp;&deg;C, ~~99~~ 12", "10³ eggs, 10⁴, 25¹ °C, CO2, 5*6, 7 °C, 12"},
		{"soft hyphens in plain text", "a.txt", "On eggs\n\nThe tempera\u00ADture was 1\u202F200 and 2\u200B5 °C", "The temperature was 1\u202F200 and 25 °C"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, err := Read(c.file, "", []byte(c.data))
			if err != nil {
				t.Fatal(err)
			}
			ingesttest.Sound(t, d)
			text := d.Pages[0].Text
			if d.Title != "" {
				_, text, _ = strings.Cut(text, "\n\n")
			}
			if diff := cmp.Diff(c.want, text); diff != "" {
				t.Error(diff)
			}
		})
	}
	d, err := Read("a.html", "", []byte("<p>0<img>5 g/l"))
	if err != nil || !d.Pages[0].Marked(ingest.Untrusted, 0, 3) {
		t.Errorf("a number with a picture in it is trusted: %v %v", d, err)
	}
}

// TestPipeTables: a cell stands below its own head, whatever its neighbours hold.
func TestPipeTables(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string // rows, ! before heads
	}{
		{"closed by pipes", "|Days|fen|pan|\n|---|--:|:-:|\n|30|61|2|", []string{"!Days|fen|pan", "30|61|2"}},
		{"not closed", "Days | fen | pan\n---|---|---\n30 | 61 | 2", []string{"!Days|fen|pan", "30|61|2"}},
		{"empty cells", "||fen|pan|\n|---|---|---|\n||61||\n|30|||", []string{"!|fen|pan", "|61|", "30||"}},
		{"a pipe in a cell", "|P(a\\|b)|n|\n|---|---|\n|0.5|30|", []string{"!P(a|b)|n", "0.5|30"}},
	} {
		d, err := Read("a.md", "", []byte("# On eggs\n\n"+c.text+"\n"))
		if err != nil {
			t.Fatal(err)
		}
		ingesttest.Sound(t, d)
		if diff := cmp.Diff(c.want, ingesttest.Rows(d.Pages[0])); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}

// TestSpannedCells: cells over several columns or rows stand where a browser shows
// them.
func TestSpannedCells(t *testing.T) {
	for _, c := range []struct {
		name, html string
		want       []string // rows, ! before heads
	}{
		{"a head over two columns", `<tr><th rowspan=2>Cold (d)<th colspan=2>Hatched (%)<tr><th>5 °C<th>12 °C<tr><td>30<td>12<td>61`,
			[]string{"!Cold (d)|Hatched (%)|Hatched (%)", "!|5 °C|12 °C", "30|12|61"}},
		{"a head of plain cells", `<thead><tr><td>Days<td>fen</thead><tbody><tr><td>30<td>61<tr><th>90<th>58`,
			[]string{"!Days|fen", "30|61", "90|58"}},
		{"a label beside three rows", `<tr><th>Pool<th>Days<th>n<tr><td rowspan=3>Fen<td>0<td>4<tr><td>30<td>61<tr><td>90<td>58<tr><td>Pan<td>0<td>2`,
			[]string{"!Pool|Days|n", "Fen|0|4", "Fen|30|61", "Fen|90|58", "Pan|0|2"}},
		{"a value beside two rows", `<tr><th>Days<th>fen<th>pan<tr><td>0<td>4<td rowspan=2>none<tr><td>30<td>61<tr><td>90<td>58<td>60`,
			[]string{"!Days|fen|pan", "0|4|none", "30|61|none", "90|58|60"}},
		{"a value over two columns", `<tr><th>Days<th>fen<th>pan<tr><td>0<td colspan=2>none<tr><td>30<td>61<td>2`,
			[]string{"!Days|fen|pan", "0|none|none", "30|61|2"}},
		{"a row that names those below", `<tr><th>Days<th>fen<th>pan<tr><td colspan=3>In the dark<tr><td>30<td>61<td>2`,
			[]string{"!Days|fen|pan", "In the dark||", "30|61|2"}},
		{"spans without end", `<tr><th colspan=9999999>Days<tr><td rowspan=0>30<td rowspan=-1>61`, nil},
		{"a span ends with its part", `<tbody><tr><td rowspan=9>Fen<td>1</tbody><tbody><tr><td>Pan<td>2`,
			[]string{"Fen|1", "Pan|2"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, err := Read("a.html", "", []byte("<table>"+c.html+"</table>"))
			if err != nil {
				t.Fatal(err)
			}
			ingesttest.Sound(t, d)
			if c.want == nil {
				return
			}
			if diff := cmp.Diff(c.want, ingesttest.Rows(d.Pages[0])); diff != "" {
				t.Error(diff)
			}
		})
	}
}
