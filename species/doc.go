// Package species answers for one species or genus: which claims are on it,
// by whatever name it was printed; the table of its hatching conditions; where
// papers disagree, and what could explain that away; where they agree; and
// what nobody has told. All of it is computed from claims, and holds nothing.
//
// It refuses to merge names by likeness (near spellings are offered, never
// taken), to count a citation as a witness, and to judge who is right: a
// conflict shows its sides, how many papers stand on each by their own work,
// and what differs between them.
package species
