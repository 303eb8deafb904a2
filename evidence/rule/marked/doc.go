// Package marked turns a document into sentences in which everything is marked
// that rules speak of: words, cues by their classes, quantities by their kinds
// and sizes, names, citations, and the clauses that hang together. A mark is a
// stretch of words; the text under it stays as it is printed.
//
// It decides nothing. What a clause says of hatching is for package bearing, what
// a value is a level of for the rules.
package marked
