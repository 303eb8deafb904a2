package layout

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hatchlore/ingest"
	"hatchlore/ingest/ingesttest"
	"hatchlore/ingest/pdf"
)

// running returns n lines of running text, each with its own number in words.
func running(name string, n int) []string {
	out := make([]string, n)
	for i := range out {
		out[i] = fmt.Sprintf("%s line %c of the text was set in the", name, 'a'+i)
	}
	return out
}

func TestColumnsKeepOrder(t *testing.T) {
	interleaved := ingesttest.NewSetter()
	left, right := running("left", 20), running("right", 20)
	for i := range left {
		y := 100 + 12*float32(i)
		interleaved.At(40, y, 10, left[i])
		interleaved.At(320, y, 10, right[i])
	}
	text := assemble(t, interleaved).Pages[0].Text
	if l, r := strings.LastIndex(text, "left"), strings.Index(text, "right"); l < 0 || r < l {
		t.Errorf("the columns are mixed: %q", text)
	}
}

// TestShortLinesInColumns: columns that the file draws line by line, in which the last
// lines of paragraphs are short.
func TestShortLinesInColumns(t *testing.T) {
	s := ingesttest.NewSetter()
	left, right := running("left", 24), running("right", 24)
	for i := range left {
		if i%4 == 3 {
			left[i] = "left end."
		}
		if i%6 == 5 {
			right[i] = "right end."
		}
		y := 100 + 12*float32(i)
		s.At(40, y, 10, left[i])
		s.At(250, y, 10, right[i])
	}
	text := assemble(t, s).Pages[0].Text
	if l, r := strings.LastIndex(text, "left"), strings.Index(text, "right"); l < 0 || r < l {
		t.Errorf("the columns are mixed: %q", text)
	}
}

// TestTableOfTwoColumns: a table of two columns is no text in two columns, however
// many rows it has, alone on its page or below such text.
func TestTableOfTwoColumns(t *testing.T) {
	for _, c := range []struct {
		rows    int
		columns bool
	}{{8, false}, {20, false}, {45, false}, {12, true}} {
		s := ingesttest.NewSetter()
		y := float32(60)
		if c.columns {
			s.Lines(40, y, 10, running("left", 20)...)
			y = s.Lines(320, y, 10, running("right", 20)...) + 24
		}
		y = s.Lines(50, y, 10, "Table 1. Temperatures at which the eggs of each of the species were held.") + 12
		var want []string
		for i := range c.rows {
			species, held := fmt.Sprintf("Fictocaris umbrosa %c", 'a'+i%26), fmt.Sprintf("%d °C in the dark", i+2)
			s.At(50, y+14*float32(i), 10, species)
			s.At(350, y+14*float32(i), 10, held)
			want = append(want, species+"|"+held)
		}
		if diff := cmp.Diff(want, ingesttest.Rows(assemble(t, s).Pages[0])); diff != "" {
			t.Errorf("%d rows, below columns %v: %s", c.rows, c.columns, diff)
		}
	}
}

// TestTableOfWords: cells with as many words as lines of columns have begin as
// sentences do.
func TestTableOfWords(t *testing.T) {
	s := ingesttest.NewSetter()
	s.Lines(50, 60, 10, "Table 1. Treatments of the eggs and what became of each of them.")
	s.At(50, 78, 10, "Treatment")
	s.At(280, 78, 10, "Outcome")
	want := []string{"!Treatment|Outcome"}
	for i := range 30 {
		treatment, outcome := fmt.Sprintf("Dried for %d days over the lime", i+2), fmt.Sprintf("Hatched within %d days of the flood", 40-i)
		s.At(50, 90+14*float32(i), 10, treatment)
		s.At(280, 90+14*float32(i), 10, outcome)
		want = append(want, treatment+"|"+outcome)
	}
	if diff := cmp.Diff(want, ingesttest.Rows(assemble(t, s).Pages[0])); diff != "" {
		t.Error(diff)
	}
}

// TestShuffledPage: a file that draws its lines in disorder is read down its
// columns.
func TestShuffledPage(t *testing.T) {
	s := ingesttest.NewSetter()
	for i := range 20 {
		k := (i * 7) % 20
		s.At(40, 100+12*float32(k), 10, running("left", 20)[k])
		s.At(320, 100+12*float32(k), 10, running("right", 20)[k])
	}
	text := assemble(t, s).Pages[0].Text
	at := 0
	for _, l := range append(running("left", 20), running("right", 20)...) {
		i := strings.Index(text[at:], l)
		if i < 0 {
			t.Fatalf("line %q is not after the one above it in %q", l, text)
		}
		at += i
	}
}

func TestPaper(t *testing.T) {
	s := ingesttest.NewSetter()
	s.At(50, 80, 18, "Hatching of the invented shrimp")
	y := s.Lines(50, 120, 10, "Abstract")
	y = s.Lines(50, y, 10, "The eggs of the species hatched at 12 °C after", "thirty days of cold, and not at all when they were warm.")
	s.Bold = true
	y = s.Lines(50, y+12, 10, "2. Sites and methods")
	s.Bold = false
	y = s.Lines(50, y, 10, "Eggs were picked out of the dry sedi-", "ment of three pools and held in water of the tap.")
	y = s.Lines(50, y+12, 8, "Figure 1. Hatching against days of cold.")
	s.Bold = true
	y = s.Lines(50, y+12, 10, "References")
	s.Bold = false
	s.Lines(50, y, 10, "Haldon, P. Q. (1962) On the hatching of winter eggs. Notes", "9, 117–119.", "Thorn, E. (1974) Drought and winter. Insects 6, 211.")
	at := s.At(50, 700, 6, "1")
	s.At(at, 703, 8, "Present address: nowhere at all, and nobody is there.")
	d := assemble(t, s)
	want := []string{
		"title/:Hatching of the invented shrimp",
		"heading/abstract:Abstract",
		"paragraph/abstract:The eggs of the species hatched at 12 °C after thirty days of cold, and not at all when they were warm.",
		"heading/methods:2. Sites and methods",
		"paragraph/methods:Eggs were picked out of the dry sediment of three pools and held in water of the tap.",
		"caption/methods:Figure 1. Hatching against days of cold.",
		"heading/references:References",
		"reference/references:Haldon, P. Q. (1962) On the hatching of winter eggs. Notes 9, 117–119.",
		"reference/references:Thorn, E. (1974) Drought and winter. Insects 6, 211.",
		"footnote/references:¹Present address: nowhere at all, and nobody is there.",
	}
	if diff := cmp.Diff(want, ingesttest.Blocks(d.Pages[0])); diff != "" {
		t.Error(diff)
	}
	if d.Title != "Hatching of the invented shrimp" || d.Lang != "en" {
		t.Errorf("title %q, language %q", d.Title, d.Lang)
	}
}

// TestFurniture: what recurs at the same place with other digits is no part of
// the text, and is not lost either.
func TestFurniture(t *testing.T) {
	var all []*ingesttest.Setter
	for i := range 5 {
		s := ingesttest.NewSetter()
		s.At(50, 40, 8, fmt.Sprintf("Annals of Pools 12 (1974) 21%d", i))
		s.Lines(50, 100, 10, running(fmt.Sprintf("page%c", 'a'+i), 10)...)
		s.At(300, 770, 8, fmt.Sprint(210+i))
		all = append(all, s)
	}
	for _, p := range assemble(t, all...).Pages {
		if !strings.Contains(p.Text, "Annals of Pools") {
			t.Errorf("page %d: the running head is lost", p.Number)
		}
		for _, b := range p.Blocks {
			if text := p.Text[b.Start:b.End]; strings.Contains(text, "Annals") || strings.Contains(text, "21") {
				t.Errorf("page %d: a running head or foot is in the block %q", p.Number, text)
			}
		}
	}
}

// TestNumbersAtTheEdge: a number alone at the page's edge is its page number and
// takes what stands beside it along, unless a running head stands farther out:
// then it labels an axis, and what stands beside it is text.
func TestNumbersAtTheEdge(t *testing.T) {
	const caption = "Table 1. Response of eggs to the cold"
	for _, c := range []struct {
		head string // of every page
		want bool   // the caption is in a block
	}{{"Annals of Pools 12 (1974)", true}, {"", false}} {
		var all []*ingesttest.Setter
		for i := range 4 {
			s := ingesttest.NewSetter()
			if c.head != "" {
				s.At(50, 30, 8, c.head)
			}
			if i == 2 {
				s.At(40, 60, 10, caption)
				s.At(400, 60, 10, "80")
			}
			s.Lines(40, 100, 10, running(fmt.Sprintf("page%c", 'a'+i), 10)...)
			all = append(all, s)
		}
		p := assemble(t, all...).Pages[2]
		if got := strings.Contains(strings.Join(ingesttest.Blocks(p), "\n"), caption); got != c.want {
			t.Errorf("head %q: caption in a block is %v; blocks %q", c.head, got, ingesttest.Blocks(p))
		}
	}
}

// setRows sets a table of three columns from y on and returns what its rows are to be.
func setRows(s *ingesttest.Setter, y float32, rows [][3]string) (want []string) {
	for i, row := range rows {
		for k, cell := range row {
			s.At(50+100*float32(k), y+14*float32(i), 10, cell)
		}
		want = append(want, strings.Join(row[:], "|"))
	}
	want[0] = "!" + want[0]
	return want
}

// TestTableToTheEdge: the last row of a table at the edge of the page is no running
// foot, though it begins and ends with a number.
func TestTableToTheEdge(t *testing.T) {
	first, second := ingesttest.NewSetter(), ingesttest.NewSetter()
	first.Lines(50, 100, 10, running("first", 30)...)
	second.Lines(50, 100, 10, running("second", 30)...)
	want := setRows(second, 665, [][3]string{{"Temp. (°C)", "Hatched (%)", "Days"}, {"4", "14", "3"}, {"9", "71", "5"}, {"15", "68", "7"}, {"21", "3", "9"}, {"26", "1", "8"}})
	if diff := cmp.Diff(want, ingesttest.Rows(assemble(t, first, second).Pages[1])); diff != "" {
		t.Error(diff)
	}
}

// TestTablesOnEveryPage: tables of one form at one place on many pages are no running
// heads; what stands over them at the edge is.
func TestTablesOnEveryPage(t *testing.T) {
	var all []*ingesttest.Setter
	var want [][]string
	for i := range 4 {
		s := ingesttest.NewSetter()
		s.At(50, 40, 8, "Annals of Pools 12 (1974)")
		s.At(50, 90, 10, fmt.Sprintf("Table %d. Temperatures and hatching, continued.", i+1))
		rows := [][3]string{{"Temp. (°C)", "Hatched (%)", "Days"}}
		for k := range 12 {
			rows = append(rows, [3]string{fmt.Sprint(4 + k + i), fmt.Sprint(90 - 7*k + i), fmt.Sprint(3 + k)})
		}
		want = append(want, setRows(s, 125, rows))
		s.At(300, 770, 8, fmt.Sprint(210+i))
		all = append(all, s)
	}
	for i, p := range assemble(t, all...).Pages {
		if diff := cmp.Diff(want[i], ingesttest.Rows(p)); diff != "" {
			t.Errorf("page %d: %s", p.Number, diff)
		}
		blocks := strings.Join(ingesttest.Blocks(p), "\n")
		if !strings.Contains(blocks, fmt.Sprintf("caption/:Table %d.", i+1)) || strings.Contains(blocks, "Annals") || strings.Contains(blocks, fmt.Sprint(210+i)) {
			t.Errorf("page %d: blocks %s", p.Number, blocks)
		}
	}
}

func TestTable(t *testing.T) {
	s := ingesttest.NewSetter()
	s.Lines(50, 80, 10, "Table 1. Hatching after cold.")
	for i, row := range [][]string{{"Days cold", "Fen", "Plateau"}, {"0", "2", "0"}, {"30", "61", ""}, {"120", "58", "60"}} {
		for k, cell := range row {
			if cell != "" {
				s.At(50+120*float32(k), 110+14*float32(i), 10, cell)
			}
		}
	}
	p := assemble(t, s).Pages[0]
	if len(p.Blocks) != 2 || p.Blocks[1].Kind != ingest.Table {
		t.Fatalf("blocks %q", ingesttest.Blocks(p))
	}
	want := []string{"!Days cold|Fen|Plateau", "0|2|0", "30|61|", "120|58|60"}
	if diff := cmp.Diff(want, ingesttest.Rows(p)); diff != "" {
		t.Error(diff)
	}
}

// TestFootnotes: small type low on the page that opens with a mark is a note, and
// parts no sentence; the same higher up, or without a mark, is none.
func TestFootnotes(t *testing.T) {
	const note = "Present address: nowhere at all, and nobody is there."
	for _, c := range []struct {
		name, mark string
		y          float32
		want       bool
	}{
		{"a raised number", "¹", 720, true},
		{"a dagger", "† ", 720, true},
		{"a star", "* ", 720, true},
		{"without a mark", "", 720, false},
		{"high on the page", "* ", 300, false},
	} {
		s := ingesttest.NewSetter()
		s.Lines(40, 100, 10, running("left", 14)...)
		s.At(40, 268, 10, "and the eggs were held at 12 °C for as long as")
		s.At(40, c.y, 8, c.mark+note)
		s.Lines(320, 100, 10, append([]string{"thirty days, after which they were wetted."}, running("right", 14)...)...)
		p := assemble(t, s).Pages[0]
		blocks := strings.Join(ingesttest.Blocks(p), "\n")
		if got := strings.Contains(blocks, "footnote/:"+c.mark+note); got != c.want {
			t.Errorf("%s: a note is %v; blocks %s", c.name, got, blocks)
		}
		if c.want && !strings.Contains(p.Text, "as long as thirty days") {
			t.Errorf("%s: the note parts the sentence: %q", c.name, p.Text)
		}
	}
}

// TestHyphensAtLineEnds: the paper's own words say whether a word has its hyphen
// outside a line's end.
func TestHyphensAtLineEnds(t *testing.T) {
	s := ingesttest.NewSetter()
	s.Lines(50, 100, 10, "The cold-moist period of the eggs was as long as the winter, and the", "adrenergic response of the animals was seen under ß-adrenergic block.")
	s.Lines(50, 160, 10, "The eggs were left in the cold-", "moist jars, and the tempera-", "ture was that of ß-adrener-", "gic trials between 5-", "10 °C of the San-", "Diego pools in pre-", "and post-treatment.")
	text := assemble(t, s).Pages[0].Text
	for _, want := range []string{"the cold-moist jars", "the temperature was", "ß-adrenergic trials", "between 5-10 °C", "San-Diego pools", "in pre- and post-treatment"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in %q", want, text)
		}
	}
}

// TestParagraphOverColumns: a sentence that goes on in the next column is one
// paragraph; a figure's caption between its halves follows it.
func TestParagraphOverColumns(t *testing.T) {
	s := ingesttest.NewSetter()
	s.Lines(40, 100, 10, append(running("left", 24), "and the last of it breaks off in the very")...)
	s.Lines(40, 600, 8, "Figure 2. A caption below the column.")
	s.Lines(320, 100, 10, append([]string{"middle of its sentence, and goes on here."}, running("right", 24)...)...)
	p := assemble(t, s).Pages[0]
	if !strings.Contains(p.Text, "in the very middle of its sentence") {
		t.Errorf("the sentence is parted: %q", p.Text)
	}
	if c := strings.Index(p.Text, "Figure 2"); c < strings.Index(p.Text, "right line") {
		t.Error("the caption stands inside the paragraph")
	}
}

func TestVerdict(t *testing.T) {
	words := func(flag pdf.Flag, n int) func(s *ingesttest.Setter) {
		return func(s *ingesttest.Setter) {
			s.Flag = flag
			s.Lines(50, 100, 10, running("the", n)...)
		}
	}
	for _, c := range []struct {
		name     string
		set      func(s *ingesttest.Setter)
		pictures float32
		fault    string
		how      ingest.How
		why      string
	}{
		{"text", words(0, 12), 0, "", ingest.ByText, ""},
		{"scan without text", func(*ingesttest.Setter) {}, 1, "", ingest.Unread, ingest.WhyPicture},
		{"scan with a stamp", func(s *ingesttest.Setter) { s.At(50, 20, 8, "Copied from the library") }, 0.9, "", ingest.Unread, ingest.WhyPicture},
		{"scan with a text layer", words(pdf.Hidden, 12), 1, "", ingest.ByOCR, ingest.WhyScan},
		{"figure over the page", func(s *ingesttest.Setter) { s.At(50, 700, 8, "Figure 3. Pools of the plateau.") }, 0.8, "", ingest.ByText, ""},
		{"last page with a few words", func(s *ingesttest.Setter) { s.At(50, 100, 10, "and so on.") }, 0, "", ingest.ByText, ""},
		{"empty page", func(*ingesttest.Setter) {}, 0, "", ingest.ByText, ingest.WhyBlank},
		{"damaged page", func(*ingesttest.Setter) {}, 0, "the page is damaged", ingest.Unread, "the page is damaged"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := ingesttest.NewSetter()
			c.set(s)
			s.Page.Pictures, s.Page.Err = c.pictures, c.fault
			p := assemble(t, s).Pages[0]
			if p.How != c.how || p.Why != c.why {
				t.Errorf("%s (%s), want %s (%s)", p.How, p.Why, c.how, c.why)
			}
		})
	}
}

// TestNumberedHead: a short paper's running heads do not recur, but stand
// beside their page's number.
func TestNumberedHead(t *testing.T) {
	first, second := ingesttest.NewSetter(), ingesttest.NewSetter()
	first.Lines(50, 100, 10, running("first", 10)...)
	second.At(50, 40, 8, "62")
	second.At(400, 40, 8, "R. HALDON ET AL.")
	second.Lines(50, 100, 10, running("second", 10)...)
	p := assemble(t, first, second).Pages[1]
	if got := ingesttest.Blocks(p); len(got) != 1 || strings.Contains(got[0], "HALDON") {
		t.Errorf("blocks %q", got)
	}
}

// TestLettering: the numbers and labels inside a figure are no sentences.
func TestLettering(t *testing.T) {
	s := ingesttest.NewSetter()
	s.Lines(50, 100, 10, running("text", 10)...)
	for i, l := range []string{"0", "20", "40", "Days", "Hatched", "60"} {
		s.At(80+50*float32(i%3), 300+40*float32(i), 7, l)
	}
	s.Flag = pdf.Sideways
	s.At(60, 400, 7, "Eggs hatched (%)")
	p := assemble(t, s).Pages[0]
	if got := ingesttest.Blocks(p); len(got) != 1 {
		t.Errorf("blocks %q", got)
	}
	if !strings.Contains(p.Text, "Hatched") || !strings.Contains(p.Text, "(%)") {
		t.Errorf("lettering is lost from %q", p.Text)
	}
}

// TestStrangeCharacters: characters at infinity are left out, and an unmapped
// sign under the code of a space is a lost character.
func TestStrangeCharacters(t *testing.T) {
	s := ingesttest.NewSetter()
	s.Page.Chars = append(s.Page.Chars, pdf.Char{Rune: '\t', Left: 50, Right: 55, Top: 93, Bottom: 100, Origin: 100, Size: 10, Flags: pdf.MapError})
	s.Page.Chars = append(s.Page.Chars, pdf.Char{Rune: 'x', Left: float32(math.NaN()), Right: float32(math.Inf(1)), Origin: 100, Size: 10})
	s.At(60, 100, 10, "eggs")
	if got := assemble(t, s).Pages[0].Text; got != "\uFFFDeggs" {
		t.Errorf("got %q", got)
	}
}
