// Package reference reads what a paper says about itself and about other
// papers: the bibliographic record on its first page and its list of references.
// From a record it makes the citation key and the short form under which a library
// knows the paper; a [Catalogue] finds the paper that another's record means.
//
// It refuses to look anything up: what is not printed stays empty, and a field
// that could be read in two ways is left out rather than guessed.
package reference

// Author is one author as printed. Given may be initials, or empty.
type Author struct{ Given, Family string }

// Record is what is known of one paper.
type Record struct {
	Title   string
	Authors []Author
	Year    int // 0 when unknown
	Journal string
	Volume  string
	Pages   string // as printed, without spaces: "101–117"
	DOI     string // lower case, without a resolver's address
	Stem    string // the file's name without folder and ending: a key's last resort
}
