// Package ingest holds the nouns of a paper as read: a [Document] is pages of
// repaired text with lines, blocks and sections, each a span of that text. The
// packages below it make one out of a file, in the order in which characters become
// text: pdf, ocr, line, sheet, table, block, layout; and textfile for what is text
// already.
//
// In the text of a page, blocks are parted by an empty line. A paragraph's lines
// are joined by spaces, a word broken at a line's end put together again; a
// table has a line a row and a tab between cells. Raised digits are written as
// superscripts (10⁻³, cm⁻¹, and marks of notes too), so that no power becomes
// part of a number. What belongs to no block is no part of the paper's own text:
// running heads and feet, the lettering of figures, type set sideways. A
// character that the file does not map to text is U+FFFD.
//
// Text is never edited under a span: a repair is made before the text is
// published and leaves a [Mark] that says what the file really had. No digit is
// ever altered: a number that cannot be trusted is marked, not mended.
package ingest

// How says how a page's text came about.
type How string

const (
	ByText How = "text"   // from the file's own characters
	ByOCR  How = "ocr"    // from a picture of the page
	Unread How = "unread" // nobody could read it; Page.Why says why
)

// Lost stands for a character that the file does not map to text.
const Lost = '\uFFFD'

// Section is the part of a paper in which a block stands, "" when unknown.
type Section string

const (
	SectionUnknown      Section = ""
	SectionAbstract     Section = "abstract"
	SectionIntroduction Section = "introduction"
	SectionMethods      Section = "methods"
	SectionResults      Section = "results"
	SectionDiscussion   Section = "discussion"
	SectionReferences   Section = "references"
	SectionOther        Section = "other" // acknowledgements, appendices and the like
)

// BlockKind says what a block is.
type BlockKind string

const (
	Title     BlockKind = "title"
	Heading   BlockKind = "heading"
	Paragraph BlockKind = "paragraph"
	ListItem  BlockKind = "item"
	Caption   BlockKind = "caption"
	Table     BlockKind = "table"
	Footnote  BlockKind = "footnote"
	Reference BlockKind = "reference"
)

// Document is one paper's text, page by page.
type Document struct {
	Source string // path as the keeper gave it
	Hash   string // SHA-256 of the file's bytes, hex
	Format string // "pdf", "txt", "md" or "html"
	Title  string // as printed; the fallback for a species in focus
	Lang   string // ISO 639-1, "" when unsure
	Pages  []Page
	Note   string // what the keeper should know about the reading as a whole
}

// Page is one page of a document. All spans are byte offsets into Text.
type Page struct {
	Number int // from 1
	How    How
	Why    string // why the page is unread or doubtful, one sentence without a full stop; "" for a sound page
	Text   string
	Lines  []Line  // in reading order; they tile the text apart from line ends
	Blocks []Block // in reading order, not overlapping
	Marks  []Mark
}

// Why a page is unread or doubtful.
const (
	WhyPicture = "a picture without text; needs OCR"
	WhyCoded   = "its letters do not map to text; needs OCR"
	WhyBlank   = "an empty page"
	WhyScan    = "the text layer of a scan; its numbers were read by a machine"
	WhyNoText  = "a picture in which no text was found"
	WhyUndrawn = "without text of its own, and its picture cannot be drawn"
	WhySlow    = "without text of its own, and its picture takes too long to read"
)

// Line is one printed line. Geometry is in points, zero where the file has none.
type Line struct {
	Start, End  int
	X, Y, Width float64 // left edge, baseline from the top of the page, length
	Size        float64 // median character height
	Bold        bool
}

// Block is a stretch of text with one purpose.
type Block struct {
	Kind       BlockKind
	Section    Section
	Start, End int
	Rows       []Row // of a table: its heads first, then its rows
}

// Row is one row of a table.
type Row struct {
	Head  bool
	Cells []Cell
}

// Cell is one cell of a table. An empty cell has Start == End.
type Cell struct{ Start, End int }

// MarkKind says what is doubtful about a stretch of text.
type MarkKind string

const (
	Inferred  MarkKind = "inferred"  // a repair put this character here
	Untrusted MarkKind = "untrusted" // a number whose characters did not map: do not use
	Suspect   MarkKind = "suspect"   // OCR probably misread it
)

// Mark is a doubt about a stretch of a page's text, with what the file had.
type Mark struct {
	Start, End int
	Kind       MarkKind
	Raw        string
}

// NeedsOCR reports whether the page is unread and reading its picture, which
// nobody has tried, may help.
func (p Page) NeedsOCR() bool {
	return p.How == Unread && (p.Why == WhyPicture || p.Why == WhyCoded)
}

// Marked reports whether a mark of the given kind touches the span.
func (p Page) Marked(kind MarkKind, start, end int) bool {
	for _, m := range p.Marks {
		if m.Kind == kind && m.Start < end && start < m.End {
			return true
		}
	}
	return false
}
