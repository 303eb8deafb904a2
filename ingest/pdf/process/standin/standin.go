// Package standin lets a test's own program stand in for the reader
// processes that package process starts: a TestMain calls it first.
//
// It refuses to do anything in a process that nobody started to read PDFs.
package standin

import (
	"fmt"
	"os"

	"hatchlore/ingest/pdf/process"
)

// ServeIfAsked reads PDFs for the process that started this one, if one did,
// and then ends it; else it returns at once.
func ServeIfAsked() {
	if !process.Serving() {
		return
	}
	if err := process.Serve(os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}
