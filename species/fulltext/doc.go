// Package fulltext reads in a paper's pages what its claims leave unsaid: how a
// claim reads where it stands, of how many eggs a table's fractions are, and from
// where the eggs came.
//
// It refuses to make claims, and to resolve places on a map.
package fulltext
