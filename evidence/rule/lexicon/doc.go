// Package lexicon cuts text into words and finds in them the phrases of a word
// file: one language's words, sorted into classes. Package evidence/rule/syntax
// describes such files.
//
// Case and marks on letters do not count, since scans lose them, but where a
// language tells two words apart by a mark alone. Words keep their place in the
// text and what stands before them.
//
// It refuses to know what a class means: that is for those who ask.
package lexicon
