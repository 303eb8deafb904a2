// Package made makes papers in any number for tests and benchmarks: invented
// text whose words are as unevenly frequent as those of prose, with facts
// planted in it whose places are known. A paper depends on the seed and its
// number alone, so that any of them can be made again by itself.
//
// It refuses to look like a real paper: every animal, place and author in it
// is invented, and most of its words mean nothing.
package made

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"hatchlore/ingest"
)

// PagesAPaper is how many pages each paper has.
const PagesAPaper = 10

// Corpus makes papers. Its methods may be called from several goroutines.
type Corpus struct {
	seed  uint64
	words []string // the commonest first
}

// Paper is a made paper.
type Paper struct {
	Number int
	Title  string
	Author string // "Alder, J."
	Year   int
	Pages  []Page
}

// Page is one page, in parts of one section each.
type Page struct {
	Parts    []Part
	Mentions []Mention
}

// Part is a stretch of text in one section.
type Part struct {
	Section ingest.Section
	Text    string
}

// Mention is a planted place that names an animal.
type Mention struct {
	Taxon   string // its current name, written out
	Printed string // as the page has it
	Claim   bool   // stands in a sentence that claims something of its hatching
}

// Synonym is an older name under which some of the papers speak of an animal.
type Synonym struct{ Old, New string }

// wordsAPage is the length of a page, about that of a printed one in small type.
const wordsAPage = 460

// New returns the corpus of a seed.
func New(seed uint64) *Corpus { return &Corpus{seed, vocabulary()} }

// Words returns the vocabulary, the commonest word first.
func (c *Corpus) Words() []string { return c.words }

// Paper makes the paper of a number from 0 on.
func (c *Corpus) Paper(n int) Paper {
	w := newWriter(c, n)
	animal := animalOf(n)
	name := animal.current
	if n%4 == 3 && animal.old != "" {
		name = animal.old // the whole paper knows it by its older name only
	}
	p := Paper{
		Number: n,
		Title:  fmt.Sprintf("Hatching of %s from the %s pools of %s", name, c.words[60+w.rnd.IntN(400)], w.place()),
		Author: fmt.Sprintf("%s, %c.", w.surname(), 'A'+rune(n%26)),
		Year:   1900 + n%125,
	}
	for i, s := range sections {
		p.Pages = append(p.Pages, w.page(i, s, name, animal.current))
	}
	return p
}

// sections gives the section of each page.
var sections = [PagesAPaper]ingest.Section{
	ingest.SectionAbstract, ingest.SectionIntroduction, ingest.SectionMethods, ingest.SectionMethods, ingest.SectionResults,
	ingest.SectionResults, ingest.SectionResults, ingest.SectionDiscussion, ingest.SectionDiscussion, ingest.SectionReferences,
}

// writer writes one paper.
type writer struct {
	*Corpus
	number int
	rnd    *rand.Rand
	zipf   *rand.Zipf
}

func newWriter(c *Corpus, n int) *writer {
	rnd := rand.New(rand.NewPCG(c.seed, uint64(n)))
	// Zipf's law with an exponent near that of English prose and a flattened
	// head (from memory).
	return &writer{c, n, rnd, rand.NewZipf(rnd, 1.1, 2, uint64(len(c.words)-1))}
}

// page writes page i: words, and on some pages sentences about the animal.
func (w *writer) page(i int, s ingest.Section, name, current string) Page {
	var p Page
	plant := func(sentence, printed, taxon string, claim bool) {
		p.Parts = append(p.Parts, Part{s, strings.ReplaceAll(sentence, "NAME", printed)})
		p.Mentions = append(p.Mentions, Mention{taxon, printed, claim})
	}
	filler := func(words int) { p.Parts = append(p.Parts, Part{s, w.prose(words)}) }
	short := shortened(name)
	days, degrees := 10+w.rnd.IntN(80), 4+w.rnd.IntN(16)
	switch i {
	case 0:
		plant(fmt.Sprintf("Eggs of NAME were collected from a pool near %s.", w.place()), name, current, false)
		filler(wordsAPage - 20)
	case 4:
		filler(wordsAPage / 2)
		plant(fmt.Sprintf("Eggs of NAME hatched at %d °C after a cold period of %d days.", degrees, days), name, current, true)
		filler(wordsAPage/2 - 15)
	case 5:
		filler(wordsAPage / 3)
		plant(fmt.Sprintf("The cysts of NAME hatched within %d days at %d °C.", 1+days%9, degrees), short, current, true)
		filler(wordsAPage * 2 / 3)
	case 6:
		filler(wordsAPage - 15)
		plant(fmt.Sprintf("No eggs of NAME hatched at %d °C.", degrees+12), short, current, true)
	case 7:
		// Another animal, named once in full and no more.
		other := animalOf(w.rnd.IntN(animals)).current
		filler(wordsAPage / 2)
		plant(fmt.Sprintf("Eggs of NAME hatched at %d °C (%s %d).", degrees+1, w.surname(), 1900+w.rnd.IntN(120)), other, other, true)
		filler(wordsAPage / 2)
	case 9:
		w.references(&p)
	default:
		filler(wordsAPage)
	}
	return p
}

// references writes a reference list.
func (w *writer) references(p *Page) {
	var b strings.Builder
	for range 28 {
		fmt.Fprintf(&b, "%s, %c. (%d). %s. Journal of Invented Pools %d, %d–%d.\n",
			w.surname(), 'A'+rune(w.rnd.IntN(26)), 1900+w.rnd.IntN(120), w.sentence(9), 1+w.rnd.IntN(90), 100, 100+w.rnd.IntN(30))
	}
	p.Parts = append(p.Parts, Part{ingest.SectionReferences, b.String()})
}

// prose writes sentences, some with a figure.
func (w *writer) prose(words int) string {
	var b strings.Builder
	for words > 0 {
		n := min(words, 8+w.rnd.IntN(18))
		words -= n
		b.WriteString(w.sentence(n))
		if w.rnd.IntN(4) == 0 {
			fmt.Fprintf(&b, " at %d.%d °C", w.rnd.IntN(30), w.rnd.IntN(10))
		}
		b.WriteString(".\n")
	}
	return b.String()
}

func (w *writer) sentence(words int) string {
	out := make([]string, words)
	for i := range out {
		out[i] = w.words[w.zipf.Uint64()]
	}
	out[0] = strings.ToUpper(out[0][:1]) + out[0][1:]
	return strings.Join(out, " ")
}

func (w *writer) surname() string {
	first, second := strings.Fields("Alder Birk Hallow Moor Fen Leaf Rush Sedge Thorn Wether"), strings.Fields("by ham ley ton wick worth er bank ford dale")
	return first[w.rnd.IntN(len(first))] + second[w.rnd.IntN(len(second))]
}

func (w *writer) place() string { return w.surname() + " Hollow" }

// Text returns the paper as a text file has it: its title, then its pages with
// form feeds between them, each section under its heading.
func (p Paper) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\n%s\n%d\n\n", p.Title, p.Author, p.Year)
	var section ingest.Section
	for i, page := range p.Pages {
		if i > 0 {
			b.WriteByte('\f')
		}
		for _, part := range page.Parts {
			if part.Section != section {
				section = part.Section
				b.WriteString(headings[section] + "\n\n")
			}
			b.WriteString(part.Text + "\n\n")
		}
	}
	return b.String()
}

var headings = map[ingest.Section]string{
	ingest.SectionAbstract: "Abstract", ingest.SectionIntroduction: "Introduction", ingest.SectionMethods: "Methods",
	ingest.SectionResults: "Results", ingest.SectionDiscussion: "Discussion", ingest.SectionReferences: "References",
}

// Mentioned returns the pages, counted from 1, that name the animal or one of
// the genus, under whatever name.
func (p Paper) Mentioned(taxon string) []int {
	var out []int
	for i, page := range p.Pages {
		if slices.ContainsFunc(page.Mentions, func(m Mention) bool {
			return m.Taxon == taxon || strings.HasPrefix(m.Taxon, taxon+" ")
		}) {
			out = append(out, i+1)
		}
	}
	return out
}
