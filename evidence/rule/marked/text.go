package marked

import (
	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/lexicon"
	"hatchlore/ingest"
	"hatchlore/species/name"
)

// Text is a document with everything marked in it that rules speak of.
type Text struct {
	*Vocabulary
	Doc       *ingest.Document
	Scope     *name.Scope // the names of the document
	Title     Bits        // classes in the title
	Titled    []*NameList // names in the title
	Sentences []*Sentence
	Headed    map[int]*NameList // names in the heading of a region
	Places    []TablePlace
	sources   map[string][]name.Name // whom an entry of the references names, by author and year
}

// Sentence is one sentence with its marks.
type Sentence struct {
	Span
	Index   int // among the sentences of the text
	Page    *ingest.Page
	Block   ingest.Block
	Head    Bits // classes in the heading above
	lex     *lexicon.Lexicon
	Words   []lexicon.Word
	Tags    []Tag
	Has     Bits // classes among its tags
	Targets []*Target
	Names   []*NameList
	Cites   []Span // citations
	Clauses []Clause
	Region  int       // sentences of one region share their heading
	Grouped bool      // speaks of a mixed group
	Caption bool      // says what a figure or table shows
	Opening *Sentence // on the page before, where s goes on from there
}

// Tag is a class or kind at some words of a sentence: [From, To).
type Tag struct {
	Class    int
	From, To int
}

// Target is one value of one quantity, or a cue, that rules look at.
type Target struct {
	Span
	Kind      string
	Class     int
	Q         *quantity.Quantity // nil for a cue
	Item      int                // which of them
	Siblings  int                // items of the quantity, or of the list in which it stands
	Series    int                // word at which that list begins
	Low, High *float64           // canonical
	Unit      string
	From, To  int // words of the whole quantity or cue: [From, To)
	At        int // word of the item itself
	Clause    int
	Broken    bool // touched by an untrusted mark
}

// NameList is a list of names that are spoken of together.
type NameList struct {
	Span
	From, To int
	Names    []name.Name
	Aside    bool // a bystander: "beside Triops"
}

// TablePlace is where a table stands.
type TablePlace struct {
	Page   int            // index in the document
	Blocks []ingest.Block // of the page
	At     int            // index of the table among them
	Lang   string         // of the text around
	Region int
	Next   int // index of the sentence behind it
}

// Span is a stretch of bytes.
type Span struct{ Start, End int }

// Trim narrows a stretch of text to what stands between its outer blanks.
func Trim(text string, start, end int) Span {
	start, end = lexicon.Trim(text, start, end)
	return Span{start, end}
}

// Text is the sentence as printed.
func (s *Sentence) Text() string { return s.Page.Text[s.Start:s.End] }

// WordAt returns the index of the first word that ends behind byte i.
func (s *Sentence) WordAt(i int) int {
	lo, hi := 0, len(s.Words)
	for lo < hi {
		mid := (lo + hi) / 2
		if s.Words[mid].End > i {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	return lo
}

func (s *Sentence) tag(class, from, to int) {
	s.Tags = append(s.Tags, Tag{class, from, to})
	s.Has.Set(class)
}
