package layout

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"hatchlore/ingest"
	"hatchlore/ingest/ingesttest"
	"hatchlore/ingest/pdf"
	"hatchlore/ingest/pdf/process"
	"hatchlore/ingest/pdf/process/standin"
)

var update = flag.Bool("update", false, "typeset the hostile pages again (needs Chromium)")

func TestMain(m *testing.M) {
	standin.ServeIfAsked()
	os.Exit(m.Run())
}

// hostile are pages on which a reader is led to print another number than stands
// there, typeset by a browser. A page holds what numbers lists and no other
// number, whatever becomes of them: each is read as it stands, or is absent, or is
// marked as not to be trusted. What want lists must be read.
var hostile = []struct {
	name    string
	html    string
	numbers string
	want    []string
}{
	{"exponents", `<p>About 10<sup>3</sup> eggs were laid, 2.5 × 10<sup>4</sup> in all, at 90 µS cm<sup>−1</sup> and 5 mg l<sup>-1</sup> in 0.3 m<sup>2</sup> of the pool.`,
		"10 2.5 90 5 0.3", []string{"About 10³ eggs", "2.5 × 10⁴ in all", "90 µS cm⁻¹", "5 mg l⁻¹", "0.3 m² of"}},
	{"marks of notes", `<p>The eggs hatched at 25<sup>1</sup> °C, after 30<sup>a</sup> days, 14<sup>2,3</sup> hours and 5.5<sup>12</sup> weeks, or 12<sup>†</sup> of them in 8<sup>*</sup> days.`,
		"25 30 14 5.5 12 8", []string{"at 25¹ °C", "5.5¹² weeks", "12† of them", "8* days"}},
	{"citations by number", `<p>Most hatched at 20 °C<sup>12,13</sup> and 45%<sup>7</sup> after 30 d<sup>15–17</sup>. It took 9 days.<sup>21</sup> Then 12 more.`,
		"20 45 30 9 12", []string{"45%⁷ after", "9 days.²¹ Then 12 more"}},
	{"ordinals", `<p>They hatched on the 1<sup>st</sup>, 2<sup>nd</sup> and 20<sup>th</sup> day, the 3<sup>e</sup> jour.`,
		"1 2 20 3", []string{"1st, 2nd and 20th day"}},
	{"degree signs", `<p>Held at 25<sup>o</sup>C, at 12<sup>0</sup>C, at 18 <sup>o</sup>C, at 5º C, at 7˚C and at 60<sup>o</sup>F in the dark.`,
		"25 12 18 5 7 60", []string{"25 °C", "12 °C", "18 °C", "5° C", "7 °C", "60 °F"}},
	{"minus signs", `<p>Frozen at −18 °C, at -20 °C, at –19 °C and at ‑21 °C; from −5 to −2 °C, 5–10 °C, 6-11 °C, 7 − 12 °C and −13–−9 °C.`,
		"18 20 19 21 5 2 10 6 11 7 12 13 9", []string{"−18 °C", "-20 °C", "–19 °C", "-21 °C", "−5 to −2 °C", "5–10 °C", "6-11 °C", "7 − 12 °C", "−13–−9 °C"}},
	{"numbers at line ends", `<p>Held between 15–<br>20 °C for 30-<br>40 days, then at −<br>18 °C with 10<br>°C of warming, and 12 000<br>eggs in 35<br>dishes. Counts were 17<br>19 and 21. A mesh of<br>250 µm was used.`,
		"15 20 30 40 18 10 12 000 35 17 19 21 250", []string{"15–20 °C", "30-40 days", "at −18 °C", "12 000 eggs", "35 dishes", "17 19 and 21"}},
	{"thin spaces", `<p>There were 10&thinsp;000 eggs in water of 1&nbsp;200&#8239;µS/cm, at 25&thinsp;°C and 5&#8201;mm deep, and 3&hairsp;500 more.`,
		"10 000 1 200 25 5 3 500", []string{"10\u202F000 eggs", "1\u202F200 µS/cm", "25 °C", "5 mm", "3\u202F500 more"}},
	{"fractions", `<p>After 2½ days or 1/2 day, 3¼ h, or 2<sup>1</sup>/<sub>2</sub> weeks, and 4<sup>3</sup>⁄<sub>4</sub> months, or 5<sup>1</sup>⁄<sub>3</sub> h.`,
		"2 1 3 4 5", []string{"2½ days", "1/2 day", "3¼ h"}},
	{"lowered digits", `<p>With CO<sub>2</sub> and H<sub>2</sub>O, the dose was 12.5<sub>3</sub> mg, Q<sub>10</sub> = 2.5, n<sub>1</sub> = 30 and 40<sub>2</sub> eggs.`,
		"2 12.5 10 2.5 1 30 40", []string{"CO2 and H2O", "Q10 = 2.5"}},
	{"decimal signs", `<p>At 28·89 °C and 0·05 g/l, 28,75 °C, .05 g/l; 3<span style="position:relative;top:-.25em">·</span>5 days and 1.5 days, or 7<span style="position:relative;top:-.2em">.</span>5 days.`,
		"28·89 0·05 28,75 05 3·5 1.5 7.5", []string{"28·89 °C", "0·05 g/l", "28,75 °C", "3·5 days", "1.5 days", "7.5 days"}},
	{"spread numbers", `<p>Held at <span style="letter-spacing:.2em">25</span> °C in <span style="letter-spacing:.15em">1200</span> ml for <span style="letter-spacing:.4em">30</span> days, or <span style="letter-spacing:.7em">48</span> hours.`,
		"25 1200 30 48", nil},
	{"numbers side by side", `<p style="position:relative;height:3em">Eggs<span style="position:absolute;left:60px">12</span><span style="position:absolute;left:78px">34</span><span style="position:absolute;left:140px">5.6</span><span style="position:absolute;left:163px">7.8</span><span style="position:absolute;left:220px">9</span><span style="position:absolute;left:230px">8</span>`,
		"12 34 5.6 7.8 9 8", nil},
	{"line numbers", manuscript(), "12 30", []string{"held at 12 °C for 30 days"}},
	{"a slanting watermark", `<div style="position:absolute;top:250px;left:40px;font-size:60px;color:#ddd;transform:rotate(-35deg)">DRAFT 2019</div>` + filler(6) + `<p>They were held at 12 °C for 30 days in the dark.` + filler(6),
		"12 30", []string{"They were held at 12 °C for 30 days in the dark."}},
	{"a level watermark", `<div style="position:absolute;top:70px;left:40px;font-size:50px;color:#ddd">COPY 45</div>` + filler(6) + `<p>They were held at 12 °C for 30 days in the dark.` + filler(6),
		"12 30 45", []string{"They were held at 12 °C for 30 days in the dark."}},
	{"a drop capital", `<p><span style="float:left;font-size:44px;line-height:36px">3</span>0 eggs were held at 12 °C, and the rest of the many eggs that had been taken were kept in the cellar until the spring came and the pools filled again.`,
		"30 12", []string{"12 °C"}},
	{"a letter as a drop capital", `<p><span style="float:left;font-size:44px;line-height:36px">T</span>he eggs were held at 12 °C, and the rest of the many eggs that had been taken were kept in the cellar until the spring came and the pools filled again.`,
		"12", []string{"12 °C"}},
	{"print twice", `<p style="position:relative">Held at 12 °C for 30 days.<span style="position:absolute;left:.4px;top:0">Held at 12 °C for 30 days.</span><p>Then at 5 °C.`,
		"12 30 5", []string{"Held at 12 °C for 30 days."}},
	{"unseen text", `<p>They were held at 12 °C<span style="color:#fff"> or 99 °C</span> for 30 days in the dark.<p style="position:absolute;left:-900px">Also at 77 °C.`,
		"12 30", []string{"They were held at 12 °C"}},
	{"right to left", `<p>The water (מים 25 °C) was held for 30 days, and <span dir=rtl>שלום 14 ימים</span> then 12 °C.`,
		"25 30 14 12", []string{"30 days", "12 °C"}},
	{"ligatures", `<p>The first flood was of five offspring in 15 fish ponds, with affinity to 12 °C, and 3 fluids at 5 ﬁelds.`,
		"15 12 3 5", []string{"first flood", "15 fish ponds", "12 °C"}},
	{"a table across two columns", twoColumns(), "1 12 45 3.5 18 60 2.1 24 7 9.8", []string{"12\t45\t3.5", "18\t60\t2.1", "24\t7\t9.8"}},
	{"a table on its side", `<table style="transform:rotate(-90deg);position:absolute;top:200px;left:20px"><tr><th>Temperature<th>Hatched<th>Days<tr><td>12<td>45<td>3.5<tr><td>18<td>60<td>2.1<tr><td>24<td>7<td>9.8</table>`,
		"12 45 3.5 18 60 2.1 24 7 9.8", nil},
	{"a number at the foot", filler(20) + `<p>The last of all the eggs hatched after 30<div style="position:absolute;bottom:6px;left:190px">217</div>`,
		"30", nil},
	{"equations", `<p>The fit was <i>y</i> = 2.5<i>x</i><sup>2</sup> + 3.1<i>x</i> − 14, with <i>r</i><sup>2</sup> = 0.92, χ<sup>2</sup><sub>3</sub> = 7.8 and <i>F</i><sub>2,45</sub> = 12.5.`,
		"2.5 3.1 14 0.92 3 7.8 2,45 12.5", []string{"r² = 0.92"}},
	{"plus and minus", `<p>Held at 18 ± 2 °C, 5.0±0.5 mg/l, 12 (±1.5) days, 45% (SE 3.2), 8–12 (mean 10) and 3×4 dishes.`,
		"18 2 5.0 0.5 12 1.5 45 3.2 8 10 3 4", []string{"18 ± 2 °C", "5.0±0.5", "12 (±1.5) days", "8–12 (mean 10)", "3×4"}},
	{"two columns side by side", `<div style="columns:2;column-gap:12px;text-align:justify">` + filler(10) + `<p>They hatched after 45` + `<p>60 of them in the light, and 12 in the dark of the cellar.` + filler(12) + `</div>`,
		"45 60 12", []string{"60 of them", "12 in the dark"}},
}

const sentence = `The eggs of the shrimp were taken from the dry mud of the pool and left in the jar until the rain came back to it. `

func filler(n int) string { return "<p>" + strings.Repeat(sentence, (n+2)/3) + "</p>" }

// manuscript is a page with a number beside each of its lines.
func manuscript() string {
	lines := strings.Split("The eggs of the shrimp were taken|from the mud of the pool and left in the|jar until the rain came back to it. They|were held at 12 °C for 30 days and then|warmed. Most of them hatched, and those|that did not were dried and held in the|dark once more, so that they could be|wetted again in the next spring. None of|the eggs that had been held in the light|was seen to hatch, and all of them were|dead when they were opened in the end.", "|")
	var b strings.Builder
	for i := range 30 {
		fmt.Fprintf(&b, `<div style="position:relative"><span style="position:absolute;left:-22px;font-size:8px">%d</span>%s</div>`, i+1, lines[i%len(lines)])
		if i%len(lines) == 3 {
			lines[3] = "were held in the cold for weeks and then"
		}
	}
	return `<div style="margin-left:26px">` + b.String() + "</div>"
}

func twoColumns() string {
	return `<div style="columns:2;column-gap:12px;text-align:justify">` + filler(14) + `</div><p><b>Table 1.</b> Hatching by temperature.
<table style="width:100%;border-collapse:collapse"><tr><th>Temperature (°C)<th>Hatched (%)<th>Days to hatch<tr><td>12<td>45<td>3.5<tr><td>18<td>60<td>2.1<tr><td>24<td>7<td>9.8</table>
<div style="columns:2;column-gap:12px;text-align:justify">` + filler(14) + `</div>`
}

// hostileHTML is the whole of the pages, a page each.
func hostileHTML() string {
	var b strings.Builder
	b.WriteString(`<!doctype html><html lang=en><meta charset=utf-8><style>@page{size:400px 600px;margin:0} body{margin:0;font:12px/16px "DejaVu Serif"}
section{position:relative;box-sizing:border-box;width:400px;height:600px;padding:36px 40px;overflow:hidden;break-after:page} p{margin:0 0 6px} sup,sub{font-size:8px;line-height:0} td,th{text-align:left;padding:0 6px 0 0}</style>`)
	for _, c := range hostile {
		fmt.Fprintf(&b, "<section>%s</section>\n", c.html)
	}
	sum := sha256.Sum256([]byte(b.String()))
	return "<title>" + hex.EncodeToString(sum[:]) + "</title>" + b.String()
}

const hostilePDF = "testdata/hostile.pdf"

// typeset prints the hostile pages with a browser.
func typeset(t *testing.T) {
	t.Helper()
	browser, err := exec.LookPath("chromium")
	if err != nil {
		t.Fatal("Chromium is needed to typeset the pages: ", err)
	}
	dir := t.TempDir()
	page := filepath.Join(dir, "hostile.html")
	if err := os.WriteFile(page, []byte(hostileHTML()), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := filepath.Abs(hostilePDF)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", "--user-data-dir="+dir, "--print-to-pdf="+out, "file://"+page)
	if said, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
}

// figures are numbers in running text, with their decimal signs. A raised figure
// is none.
var figures = regexp.MustCompile(`[0-9]+(?:[.,·][0-9]+)*`)

func TestHostilePages(t *testing.T) {
	if *update {
		typeset(t)
	}
	file := pdfReader(t)(hostilePDF)
	if !strings.HasPrefix(hostileHTML(), "<title>"+file.Title+"</title>") {
		t.Fatalf("%s is not what the test's pages make: run it with -update", hostilePDF)
	}
	doc := Assemble(hostilePDF, "", file)
	ingesttest.Sound(t, doc)
	if len(doc.Pages) != len(hostile) {
		t.Fatalf("%d pages for %d cases", len(doc.Pages), len(hostile))
	}
	for i, c := range hostile {
		t.Run(c.name, func(t *testing.T) { checkFigures(t, doc.Pages[i], strings.Fields(c.numbers), c.want) })
	}
}

// checkFigures holds the blocks of a page against the numbers that it prints.
func checkFigures(t *testing.T, page ingest.Page, printed, want []string) {
	t.Helper()
	var all strings.Builder
	for _, b := range page.Blocks {
		text := page.Text[b.Start:b.End]
		all.WriteString(text + "\n\n")
		for _, m := range figures.FindAllStringIndex(text, -1) {
			if n := text[m[0]:m[1]]; !slices.Contains(printed, n) && !page.Marked(ingest.Untrusted, b.Start+m[0], b.Start+m[1]) {
				t.Errorf("%s is a number that the page does not print", n)
			}
		}
	}
	for _, w := range want {
		if !strings.Contains(all.String(), w) {
			t.Errorf("%q was not read", w)
		}
	}
	if t.Failed() || testing.Verbose() {
		t.Logf("read as %q", page.Text)
	}
}

// pdfReader returns what reads PDFs for a test.
func pdfReader(t *testing.T) func(path string) *pdf.File {
	t.Helper()
	r, err := process.Start(context.Background(), process.Options{Processes: 1})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { r.Close() })
	return func(path string) *pdf.File {
		f, err := r.Read(t.Context(), path)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
}
