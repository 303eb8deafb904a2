// Package pdf is what a PDF holds once it is read: positioned characters, page
// by page, and what can be wrong with a file. The readers that fill it stand in
// the folders below: pdfium first, second to confirm it and to open what it
// refuses, and process, which runs both where no file can do harm.
//
// It refuses to interpret: no lines, no words, no repairs. A character that the
// file maps to nothing comes out as such, with [MapError] set.
package pdf

// Flag says what is special about a character.
type Flag uint8

const (
	MapError  Flag = 1 << iota // the font maps this glyph to no character; Rune is its code in the font
	Hyphen                     // a line-end hyphen by the engine's judgement
	Generated                  // put there by the engine (spaces, line ends), not in the file
	Sideways                   // its baseline is not level: axis labels, stamps along the edge
	Hidden                     // not to be seen: drawn invisibly, as the text layer of a scan is, or white on white
	Unsure                     // read from a picture by a program that was not sure of it
	Italic                     // set in a slanted face, by the font's name or flag
	Signs                      // set in a font of signs by its name: a digit or stop may stand for a sign
)

// Char is one character with its place on the page as shown (rotation
// applied), in points from the upper left corner. Left == Right for generated
// characters.
type Char struct {
	Rune                     rune
	Left, Top, Right, Bottom float32
	Origin                   float32 // baseline, from the top of the page
	Size                     float32 // font size as set, after scaling
	Weight                   int16   // 400 regular, 700 bold, 0 unknown
	Flags                    Flag
}

// MaxChars bounds the characters of one page; a printed page has about 5,000.
const MaxChars = 400_000

// Page is one page. Err is empty for a page that was read.
type Page struct {
	Number        int // from 1
	Width, Height float32
	Chars         []Char  // in the order in which the file draws them
	Pictures      float32 // share of the page covered by images, 0 to 1
	Scanned       bool    // Chars were read from the page's picture, put here by the caller
	Unpictured    string  // why its picture could not be read, put here by the caller
	Err           string  // one sentence why the page could not be read
}

// File is a whole PDF.
type File struct {
	Pages  []Page
	Engine string // "pdfium" or, where that refuses the file, "ledongthuc"
	Title  string // from the document's information, often wrong
	Note   string
}
