package ingest

// Version changes whenever the same file would give another text. Papers read
// by another version are read anew when they are ingested again.
const Version = "2"
