// Command typeset turns the sources of the sample papers into what the two
// typesetters take, and the labels beside each paragraph into gold.jsonl.
//
// It refuses a label whose quote is not printed in the paragraph above it, and
// a paragraph that it cannot find again in the finished PDF.
//
//	typeset write SRC BUILD         *.paper → BUILD/*.tex and *.html
//	typeset keep BUILD NAME         the soft hyphens that its first print used
//	typeset still FILE.pdf…         fixed dates in PDFs of a browser
//	typeset scan OUT.pdf PAGE.pgm…  page pictures → a PDF without text
//	typeset gold SRC BUILD OUT      labels with pages → OUT
package main

import (
	"fmt"
	"os"
	"path/filepath"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "typeset:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) < 2 {
		return fmt.Errorf("say what to do: write, keep, still, scan or gold")
	}
	switch verb, rest := args[0], args[1:]; {
	case verb == "write" && len(rest) == 2:
		return write(rest[0], rest[1])
	case verb == "still":
		for _, f := range rest {
			if err := still(f); err != nil {
				return err
			}
		}
		return nil
	case verb == "keep" && len(rest) == 2:
		return keep(rest[0], rest[1])
	case verb == "scan" && len(rest) > 1:
		return scan(rest[0], rest[1:])
	case verb == "gold" && len(rest) == 3:
		return gold(rest[0], rest[1], rest[2])
	}
	return fmt.Errorf("cannot %q with %d arguments", args[0], len(args)-1)
}

// write sets every paper of src for its typesetter.
func write(src, build string) error {
	papers, err := ReadAll(src)
	if err != nil {
		return err
	}
	for _, p := range papers {
		ending, set := ".html", setHTML
		if p.usesTeX() {
			ending, set = ".tex", setTeX
		}
		text, err := set(p)
		if err != nil {
			return fmt.Errorf("%s: %w", p.Name, err)
		}
		if err := os.WriteFile(filepath.Join(build, p.Name+ending), text, 0o644); err != nil {
			return err
		}
	}
	return nil
}
