// Package bibliography reads and writes files of references: BibTeX, RIS and
// CSL-JSON. What is wrong in a file is told with its line, and reading goes on
// behind it.
//
// It refuses to look anything up, and to keep what a keeper does not act on:
// abstracts, keywords and notes are left out.
package bibliography
