package bibliography

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"

	"hatchlore/ingest/reference"
)

func showRecord(r reference.Record) string {
	var a []string
	for _, x := range r.Authors {
		a = append(a, strings.TrimSpace(x.Given+"/"+x.Family))
	}
	return fmt.Sprintf("%s | %s | %d | %s %s %s | %s", r.Title, strings.Join(a, ", "), r.Year, r.Journal, r.Volume, r.Pages, r.DOI)
}

func showWork(w Work) string {
	s := fmt.Sprintf("%s %s: %s", w.Kind, w.Key, showRecord(w.Record))
	if w.Publisher != "" {
		s += " | " + w.Publisher
	}
	return s
}

// format is one file format with its reader and writer.
type format struct {
	name  string
	read  func(io.Reader) ([]Work, []Problem, error)
	write func(io.Writer, []Work) error
}

var formats = []format{
	{"BibTeX", ReadBibTeX, WriteBibTeX},
	{"RIS", ReadRIS, WriteRIS},
	{"CSL-JSON", ReadCSL, WriteCSL},
}

// Works are made up, apart from the example record of the RIS specification
// (check X30 of the reference values) and the DOIs of Crossref's note (X32, X33).
var workCases = []struct{ format, name, in, want, problems string }{
	{"BibTeX", "article", `@article{h87, author = {Hallow, Joanna K. and Anders Birk}, title = {Eggs of {T}estus inventus},
  journal = "Pool " # "Letters", year = 1987, volume = 3, pages = {5--9}, doi = {https://doi.org/10.1234/AB.5}}`,
		"article h87: Eggs of Testus inventus | Joanna K./Hallow, Anders/Birk | 1987 | Pool Letters 3 5–9 | 10.1234/ab.5", ""},
	{"BibTeX", "accents", `@book{b, author = {H{\"a}llow, J. and M\"oor, P. and {\'E}rbin, \c{C}. and Stra{\ss}e, O. and {Office of Pools}}, title = {A \emph{key}}, year = {1990}, publisher = {Nowhere \& Sons}}`,
		"book b: A key | J./Hällow, P./Möor, Ç./Érbin, O./Straße, /Office of Pools | 1990 |    |  | Nowhere & Sons", ""},
	{"BibTeX", "rarer accents", `@misc{b, author = {{\d{H}all{\=o}w}, J. and Br{\u{a}}n, \.{Z}. and K\"{\i}el, \b{d}}, title = {Q\.V}}`,
		"other b: QV\u0307 | J./Ḥallōw, Ż./Brăn, ḏ/Kïel | 0 |    | ", ""},
	{"BibTeX", "macros and comments", "% a remark, mail@nowhere\n@comment{left {out}}\n@string{pl = {Pool Letters}}\n@ARTICLE(x, author={van der Moor, Petra}, title={Eggs}, journal=pl, year=2001)",
		"article x: Eggs | Petra/van der Moor | 2001 | Pool Letters   | ", ""},
	{"BibTeX", "X25 missing journal", "\n@article{x, author={Birk, A.}, title={Eggs}, year=2001}",
		"article x: Eggs | A./Birk | 2001 |    | ", "line 2: article x has no journal or book"},
	{"BibTeX", "X27 authors", `@misc{m, author = {Smith, Ann and Bo Li}}`, "other m:  | Ann/Smith, Bo/Li | 0 |    | ", ""},
	{"RIS", "X30", "TY  - JOUR\r\nAU  - Shannon, Claude E.\r\nPY  - 1948\r\nTI  - A Mathematical Theory of Communication\r\nT2  - Bell System Technical Journal\r\nSP  - 379\r\nEP  - 423\r\nVL  - 27\r\nER  - \r\n",
		"article : A Mathematical Theory of Communication | Claude E./Shannon | 1948 | Bell System Technical Journal 27 379–423 | ", ""},
	{"RIS", "X31 continued line", "TY  - BOOK\nAU  - Hallow, Joanna\nTI  - A long title about the eggs of an invented shrimp in an invented\n pool\nY1  - 1999/05/01\nER  - \n",
		"book : A long title about the eggs of an invented shrimp in an invented pool | Joanna/Hallow | 1999 |    | ", ""},
	{"RIS", "X29 no end", "TY  - GEN\nTI  - Notes\n", "other : Notes |  | 0 |    | ", "line 1: record without an end (ER)"},
	{"CSL-JSON", "article", `[{"id": 7, "type": "article-journal", "title": "Eggs", "author": [{"family": "Moor", "given": "Petra", "non-dropping-particle": "van der"}, {"literal": "Office of Pools"}],
  "issued": {"date-parts": [[1987, 5]]}, "container-title": "Pool Letters", "volume": 3, "page": "5-9", "DOI": "10.1093/biomet/asaa052"}]`,
		"article 7: Eggs | Petra/van der Moor, /Office of Pools | 1987 | Pool Letters 3 5–9 | 10.1093/biomet/asaa052", ""},
	{"CSL-JSON", "raw date", `[{"id": "a", "type": "report", "title": "Eggs", "author": [{"literal": "Office"}], "issued": {"raw": "May 1990"}}]`,
		"report a: Eggs | /Office | 1990 |    | ", ""},
}

func TestReadWorks(t *testing.T) {
	for _, c := range workCases {
		t.Run(c.format+" "+c.name, func(t *testing.T) {
			for _, f := range formats {
				if f.name != c.format {
					continue
				}
				works, problems, err := f.read(strings.NewReader(c.in))
				if err != nil || len(works) != 1 {
					t.Fatalf("%d works, %v", len(works), err)
				}
				if got := showWork(works[0]); got != c.want {
					t.Errorf("\n got %s\nwant %s", got, c.want)
				}
				var ps []string
				for _, p := range problems {
					ps = append(ps, p.String())
				}
				if got := strings.Join(ps, "; "); got != c.problems {
					t.Errorf("problems %q, want %q", got, c.problems)
				}
			}
		})
	}
}

// TestWorksRoundTrip writes what was read in every format and reads it again.
func TestWorksRoundTrip(t *testing.T) {
	for _, c := range workCases {
		for _, from := range formats {
			if from.name != c.format {
				continue
			}
			works, _, _ := from.read(strings.NewReader(c.in))
			for _, to := range formats {
				var b bytes.Buffer
				if err := to.write(&b, works); err != nil {
					t.Fatal(err)
				}
				again, _, err := to.read(bytes.NewReader(b.Bytes()))
				if err != nil || len(again) != 1 {
					t.Fatalf("%s: %d works, %v\n%s", to.name, len(again), err, b.String())
				}
				if works[0].Key == "" {
					again[0].Key = "" // BibTeX needs one
				}
				if got, want := showWork(again[0]), showWork(works[0]); got != want {
					t.Errorf("%s through %s\n got %s\nwant %s", c.name, to.name, got, want)
				}
			}
		}
	}
}

func TestReadWorksErrors(t *testing.T) {
	if _, _, err := ReadCSL(strings.NewReader("not json")); err == nil {
		t.Error("CSL-JSON that is none was read")
	}
	works, ps, err := ReadCSL(strings.NewReader(`[{"id": "a", "title": 5}, {"id": "b", "type": "document", "title": "Eggs"}, 7]`))
	if err != nil || len(works) != 1 || works[0].Key != "b" || len(ps) != 2 || ps[0].Line != 1 || ps[1].Line != 3 {
		t.Errorf("an odd item among others: %v %v %v", works, ps, err)
	}
	_, ps, err = ReadRIS(strings.NewReader("AU  - Hallow, J.\n"))
	if err != nil || len(ps) != 1 || ps[0].Line != 1 {
		t.Errorf("a tag outside a record: %v %v", ps, err)
	}
	if _, ps, _ := ReadBibTeX(strings.NewReader("@article{")); len(ps) != 1 {
		t.Errorf("an entry that breaks off: %v", ps)
	}
}

// TestOldEncodings: files of references in the character sets in which programs write
// them, with and without a byte order mark.
func TestOldEncodings(t *testing.T) {
	for _, c := range []struct{ format, in string }{
		{"BibTeX", "@misc{a, author = {H\xe4llow, J.}, title = {\x96}}"},
		{"RIS", "TY  - GEN\rID  - a\rAU  - H\xe4llow, J.\rTI  - \x96\rER  - \r"},
		{"RIS", "\xef\xbb\xbfTY  - GEN\r\nID  - a\r\nAU  - Hällow, J.\r\nTI  - –\r\nER  - \r\n"},
		{"CSL-JSON", "\xef\xbb\xbf[{\"id\": \"a\", \"title\": \"–\", \"author\": [{\"family\": \"Hällow\", \"given\": \"J.\"}]}]"},
	} {
		for _, f := range formats {
			if f.name != c.format {
				continue
			}
			works, ps, err := f.read(strings.NewReader(c.in))
			if err != nil || len(works) != 1 || len(ps) > 0 || showWork(works[0]) != "other a: – | J./Hällow | 0 |    | " {
				t.Errorf("%s %q: %v %v %v", c.format, c.in, works, ps, err)
			}
		}
	}
}

// A chapter takes over what it does not say itself from the volume it names;
// an entry that names itself, or another that names it back, takes nothing.
func TestCrossReference(t *testing.T) {
	works, ps, err := ReadBibTeX(strings.NewReader(`@incollection{c, author = {Birk, A.}, title = {Eggs}, crossref = {V}}
@book{v, editor = {Moor, P.}, title = {All pools}, year = 1990, publisher = {Nowhere}}
@book{x, author = {Hallow, J.}, title = {One}, crossref = {y}}
@book{y, author = {Hallow, J.}, title = {Two}, crossref = {x}}
@book{z, author = {Hallow, J.}, title = {Three}, crossref = {z}}`))
	if err != nil || len(works) != 5 {
		t.Fatalf("%d works, %v", len(works), err)
	}
	if got, want := showWork(works[0]), "chapter c: Eggs | A./Birk | 1990 | All pools   |  | Nowhere"; got != want {
		t.Errorf("\n got %s\nwant %s", got, want)
	}
	if len(ps) != 3 {
		t.Errorf("three books have no year, and the problems are %v", ps)
	}
}

func fuzzFormat(f *testing.F, name string) {
	for _, c := range workCases {
		if c.format == name {
			f.Add(c.in)
		}
	}
	for _, k := range formats {
		if k.name != name {
			continue
		}
		f.Fuzz(func(t *testing.T, in string) {
			works, _, err := k.read(strings.NewReader(in))
			if err != nil {
				return
			}
			var once, twice bytes.Buffer
			if err := k.write(&once, works); err != nil {
				t.Fatal(err)
			}
			again, _, err := k.read(bytes.NewReader(once.Bytes()))
			if err != nil || len(again) != len(works) {
				t.Fatalf("%d works became %d, %v:\n%s", len(works), len(again), err, once.String())
			}
			if err := k.write(&twice, again); err != nil {
				t.Fatal(err)
			}
			third, _, err := k.read(bytes.NewReader(twice.Bytes()))
			if err != nil || len(third) != len(again) {
				t.Fatalf("%d works became %d, %v", len(again), len(third), err)
			}
			for i := range again {
				if a, b := showWork(again[i]), showWork(third[i]); a != b {
					t.Fatalf("changed on the second way:\n%s\n%s", a, b)
				}
			}
		})
	}
}

func FuzzBibTeX(f *testing.F) { fuzzFormat(f, "BibTeX") }
func FuzzRIS(f *testing.F)    { fuzzFormat(f, "RIS") }
func FuzzCSL(f *testing.F)    { fuzzFormat(f, "CSL-JSON") }
