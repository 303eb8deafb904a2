package ingest

// Version changes whenever the same file would give another text, other blocks
// or other marks: a change in this package, in ingest/pdf or ingest/ocr, or of
// the engine's version. What reads the text afterwards (records, names, claims)
// does not count. Papers read by another version are read anew when they are
// ingested again.
const Version = "12"
