package textfile

import (
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/google/go-cmp/cmp"

	"hatchlore/ingest"
	"hatchlore/ingest/ingesttest"
)

func TestReadText(t *testing.T) {
	for _, c := range []struct {
		name, file, data string
		title            string
		blocks           []string
	}{
		{"plain", "a.txt", "On eggs\n\nThe eggs were\nheld at 4 °C and their tempera-\nture was cold-\nMoist.\n\nReferences\n\nHaldon (1962) Notes.\n", "On eggs",
			[]string{"title/:On eggs", "paragraph/:The eggs were held at 4 °C and their temperature was cold-Moist.", "heading/references:References", "reference/references:Haldon (1962) Notes."}},
		{"plain, run-in abstract", "a.TXT", "On eggs\nAbstract. They hatch.\n", "On eggs", []string{"title/:On eggs", "paragraph/abstract:Abstract. They hatch."}},
		{"plain, one line", "a.txt", "The eggs of F. ficta hatched at 11 °C. None hatched at 25 °C.\n", "", []string{"paragraph/:The eggs of F. ficta hatched at 11 °C. None hatched at 25 °C."}},
		{"plain, one paragraph", "a.txt", "\nThe eggs of F. ficta hatched at\n11 °C. None hatched at 25 °C.\n\n", "", []string{"paragraph/:The eggs of F. ficta hatched at 11 °C. None hatched at 25 °C."}},
		{"plain, a sentence a line", "a.txt", "The eggs hatched at 11 °C.\nNone hatched at 25 °C.", "", []string{"paragraph/:The eggs hatched at 11 °C. None hatched at 25 °C."}},
		{"plain, title on its text", "a.txt", "On eggs\nThey hatched at 11 °C.", "On eggs", []string{"title/:On eggs", "paragraph/:They hatched at 11 °C."}},
		{"plain, first line too long", "a.txt", strings.Repeat("Eggs hatch. ", 21) + "\n\nThey hatched.", "",
			[]string{"paragraph/:" + strings.TrimSpace(strings.Repeat("Eggs hatch. ", 21)), "paragraph/:They hatched."}},
		{"old encoding", "a.txt", "On eggs\r\n\r\nAt 18 \xb0C \x96 or so\r\n", "On eggs", []string{"title/:On eggs", "paragraph/:At 18 °C – or so"}},
		{"suspended hyphen", "a.txt", "On eggs\n\npre-\nand post-treatment", "On eggs", []string{"title/:On eggs", "paragraph/:pre- and post-treatment"}},
		{"markdown", "a.md", "---\ntitle: On eggs\n---\n\n## Methods\n\nHeld at **4 °C** in [water](http://x.invalid).\n\n- one\n- two\n\n| Days | n |\n|---|---|\n| 30 | 61 |\n", "On eggs",
			[]string{"title/:On eggs", "heading/methods:Methods", "paragraph/methods:Held at 4 °C in water.", "item/methods:one", "item/methods:two", "table/methods:Days\tn\n30\t61"}},
		{"markdown, code", "a.md", "# On eggs\n\nThey hatched.\n\n```r\n# days\nx <- 12\n\n```\nThen none.\n\n~~~\nThe fence is open.\n", "On eggs",
			[]string{"title/:On eggs", "paragraph/:They hatched.", "paragraph/:Then none.", "paragraph/:The fence is open."}},
		{"front matter", "a.md", "---\ntitle: \"On eggs\"\nauthor: Merrin Birk\ndate: 2022-03-01\n---\n\nHeld.\n", "On eggs",
			[]string{"title/:On eggs", "paragraph/:Merrin Birk", "paragraph/:2022", "paragraph/:Held."}},
		{"front matter, a list", "a.md", "---\ntitle: On eggs\nauthors:\n  - Merrin Birk\n  - 'Ilse Hallow'\nlang: en\n---\n\nHeld.\n", "On eggs",
			[]string{"title/:On eggs", "paragraph/:Merrin Birk; Ilse Hallow", "paragraph/:Held."}},
		{"front matter, a list in brackets", "a.md", "---\ntitle: On eggs\nauthors: [Merrin Birk, \"Ilse Hallow\"]\n---\n\nHeld.\n", "On eggs",
			[]string{"title/:On eggs", "paragraph/:Merrin Birk; Ilse Hallow", "paragraph/:Held."}},
		{"markdown, underlined", "a.md", "On eggs\n=======\n\nResults\n---\nThey hatched.\n", "On eggs", []string{"title/:On eggs", "heading/results:Results", "paragraph/results:They hatched."}},
		{"html", "a.html", "<html><head><title>T</title><script>var x = 5;</script></head><body><h1>On eggs</h1><h2>Results</h2><p>At 18&nbsp;&deg;C, 10<sup>-3</sup> hatched.<ul><li>one<li>two</ul>" +
			"<table><caption>Counts</caption><tr><th>Days<th>n<tr><td>30<td>61</table></body>", "On eggs",
			[]string{"title/:On eggs", "heading/results:Results", "paragraph/results:At 18 °C, 10⁻³ hatched.", "item/results:one", "item/results:two", "caption/results:Counts", "table/results:Days\tn\n30\t61"}},
		{"plain, the long ending", "a.text", "On eggs\n\nThey hatch.", "On eggs", []string{"title/:On eggs", "paragraph/:They hatch."}},
		{"markdown, the long ending", "a.Markdown", "# On eggs\n\nThey *hatch*.", "On eggs", []string{"title/:On eggs", "paragraph/:They hatch."}},
		{"markdown, headings in other words", "a.md", "# On eggs\n\n## Abstract\n\nThey hatch.\n\n## Pools\n\nThree.\n\n## Sites and methods\n\nIn jars.\n", "On eggs",
			[]string{"title/:On eggs", "heading/abstract:Abstract", "paragraph/abstract:They hatch.", "heading/:Pools", "paragraph/:Three.", "heading/methods:Sites and methods", "paragraph/methods:In jars."}},
		{"html without headings", "a.htm", "<title>On eggs</title>They hatch.", "On eggs", []string{"paragraph/:They hatch."}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, err := Read(c.file, "hash", []byte(c.data))
			if err != nil {
				t.Fatal(err)
			}
			ingesttest.Sound(t, d)
			if d.Title != c.title {
				t.Errorf("title %q, want %q", d.Title, c.title)
			}
			if diff := cmp.Diff(c.blocks, ingesttest.Blocks(d.Pages[0])); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestReadTextPages(t *testing.T) {
	d, err := Read("a.txt", "", []byte("On eggs\n\nfirst\fsecond\f"))
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Pages) != 3 || d.Pages[1].Text != "second" || d.Pages[2].Why != ingest.WhyBlank {
		t.Errorf("pages %+v", d.Pages)
	}
}

func TestReadTextUTF16(t *testing.T) {
	data := []byte{0xFF, 0xFE}
	for _, u := range utf16.Encode([]rune("On eggs\n\nat 18 °C")) {
		data = append(data, byte(u), byte(u>>8))
	}
	d, err := Read("a.txt", "", data)
	if err != nil || !strings.HasSuffix(d.Pages[0].Text, "at 18 °C") {
		t.Errorf("%+v, %v", d, err)
	}
}

func TestReadTextFaults(t *testing.T) {
	for file, want := range map[string]string{"a.txt": "a.txt is empty", "a.docx": "a.docx is empty"} {
		if _, err := Read(file, "", nil); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s: %v", file, err)
		}
	}
	if _, err := Read("a.docx", "", []byte("x")); err == nil || !strings.Contains(err.Error(), "of a kind (.docx) that cannot be read") {
		t.Errorf("got %v", err)
	}
}

// FuzzReadText: whatever the bytes, spans hold.
func FuzzReadText(f *testing.F) {
	f.Add("a.txt", []byte("On eggs\n\nheld at 4\n°C-\nx\f\x80"))
	f.Add("a.md", []byte("# On eggs\n|a|b|\n|--|--|\n|1|\n```\n- x\n  y\n---\n"))
	f.Add("a.html", []byte("<h1>On<p>eggs<table><tr><td>1<table><tr><th>2</table>"))
	f.Fuzz(func(t *testing.T, name string, data []byte) {
		d, err := Read(name, "", data)
		if err == nil {
			ingesttest.Sound(t, d)
		}
	})
}
