// Package table reads claims about hatching out of tables. A table's caption,
// its column heads and its row labels say what was done to which eggs and what
// was counted; the cells say what came of it. What those words mean stands in
// head files, one per language, described in package evidence/rule/syntax.
//
// Tables come as blocks with rows and cells; those that a plain text prints as
// lines are found here, by [Reader.LaidOut]. One that lies, with its levels along
// the first line, is stood up before it is read.
//
// It refuses a table that counts no hatching, a head that it does not know, and
// a cell with more than a number, its spread and its unit.
package table
