package bibliography

import (
	"fmt"
	"strconv"
	"strings"

	"hatchlore/ingest/reference"
)

// Kind says what a work is.
type Kind string

const (
	Article Kind = "article" // in a journal
	Book    Kind = "book"
	Chapter Kind = "chapter" // of a book or of proceedings
	Thesis  Kind = "thesis"
	Report  Kind = "report"
	Other   Kind = "other"
)

// Work is one entry of a reference file. For a chapter, Journal is the book.
type Work struct {
	reference.Record
	Key       string // the file's own key, "" where it has none
	Kind      Kind
	Publisher string
}

// Problem is something wrong in a reference file; reading goes on behind it.
type Problem struct {
	Line int // from 1, where the entry begins
	What string
}

func (p Problem) String() string { return fmt.Sprintf("line %d: %s", p.Line, p.What) }

// lint reports what an entry of its kind must have and lacks.
func (w Work) lint(line int) []Problem {
	var out []Problem
	need := func(name string, have bool) {
		if !have {
			out = append(out, Problem{line, strings.TrimSpace(fmt.Sprintf("%s %s has no %s", w.Kind, w.Key, name))})
		}
	}
	if w.Kind == Other {
		return nil
	}
	need("author", len(w.Authors) > 0)
	need("title", w.Title != "")
	need("year", w.Year > 0)
	if w.Kind == Article || w.Kind == Chapter {
		need("journal or book", w.Journal != "")
	}
	return out
}

// yearIn returns the first year from 1000 to 2999 in s, 0 when there is none.
func yearIn(s string) int {
	for i := 0; i+4 <= len(s); i++ {
		if i > 0 && s[i-1] >= '0' && s[i-1] <= '9' || i+4 < len(s) && s[i+4] >= '0' && s[i+4] <= '9' {
			continue
		}
		if y, err := strconv.Atoi(s[i : i+4]); err == nil && y >= 1000 && y <= 2999 {
			return y
		}
	}
	return 0
}

// joinPages writes a range as this package does: "101–117".
func joinPages(first, last string) string {
	if last == "" || first == last {
		return first
	}
	return first + "–" + last
}

// splitPages splits "101–117".
func splitPages(s string) (first, last string) {
	first, last, _ = strings.Cut(s, "–")
	return first, last
}
