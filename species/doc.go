// Package species compares what papers say of one species or genus: where they
// disagree, what could explain that away and at which levels a trial would settle
// it; where they agree; and what nobody has told. All of it is computed from
// claims, and holds nothing.
//
// The packages below it, in the order in which data flows: taxonomy (which claims
// are on a taxon), value (what they say of their factor), fulltext (what their pages
// tell beside them), witness (whose findings they are), table (the evidence table),
// pool (fractions taken together), conflict (the nouns of a disagreement), reason
// (what explains one away), level (what a trial would set).
//
// It refuses to count a citation as a witness, and to judge who is right: a
// conflict shows its sides, how many papers stand on each by their own work,
// and what differs between them.
package species
