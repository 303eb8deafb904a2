// Package fulltext reads in a paper's pages what its claims leave unsaid: how a
// claim reads where it stands, of how many eggs a table's fractions are, from
// where the eggs came, and how they were handled where no factor says it.
//
// It refuses to make claims, and to resolve places on a map.
package fulltext
