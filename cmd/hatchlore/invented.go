package main

import (
	"fmt"
	"io"
	"strings"

	corpus "hatchlore/corpus-sample"
)

// inventedNote says of an animal of the sample that it does not exist; "" of
// every other.
func inventedNote(taxon string) string {
	if !corpus.IsInvented(taxon) {
		return ""
	}
	return "Invented: " + taxon + " lives in hatchlore's own sample of papers only; nothing here may guide the raising of any animal."
}

// printInvented prints the note on an animal of the sample, in lines of their
// own.
func printInvented(w io.Writer, taxon string, width int) {
	if note := inventedNote(taxon); note != "" {
		fmt.Fprintln(w, strings.Join(fold(note, width), "\n"))
	}
}
