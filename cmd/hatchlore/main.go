// Command hatchlore reads a keeper's own papers on temporary-pool crustaceans,
// lays out what each claims about hatching, shows where they disagree, and
// plans the trial that could settle it.
//
// It refuses to give advice of its own: every figure it prints has a source
// and a page, or is marked as a stated default.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/ingest/pdf/process"
)

// Exit statuses, as the help promises.
const (
	statusDone  = 0 // all that could be done was done
	statusFail  = 1 // could not
	statusUsage = 2 // the command line is wrong
)

func main() {
	if process.Serving() {
		// This process is a reader of PDFs, started by another hatchlore.
		if err := process.Serve(os.Stdin, os.Stdout); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(statusFail)
		}
		return
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run carries out one command line and returns the exit status. A failure is
// told in one sentence on stderr.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	root := newRoot()
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	switch {
	case err == nil:
		return statusDone
	case errors.Is(err, syscall.EPIPE):
		return statusDone // the reader of our output has seen enough
	case errors.Is(ctx.Err(), context.Canceled):
		fmt.Fprintln(stderr, "hatchlore: stopped; what was done so far is kept")
		return statusFail
	}
	fmt.Fprintln(stderr, "hatchlore: "+terminal.Sentence(err.Error()))
	var wrong *usage.Error
	if errors.As(err, &wrong) {
		return statusUsage
	}
	return statusFail
}
