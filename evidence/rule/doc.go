// Package rule reads claims about hatching out of a document's text.
//
// A text comes marked (package marked) and judged (package bearing): cut into
// sentences and clauses, with quantities, names and cue words, and with what each
// clause says of hatching. Rules say which quantity or cue, standing in which
// company, is a claim about which factor; then it is settled whom the claim is
// about, and what neighbours say of it. Rules and cue words are data, described in
// package syntax: a rule knows classes of cues and kinds of quantities, never
// words, and each language brings its words in one file.
//
// It refuses to guess: a number that no rule can place, a number with
// untrusted characters, and a condition for adults, ponds or growth give no
// claim, and every claim carries the words it rests on.
package rule
