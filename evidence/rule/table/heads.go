package table

import (
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"hatchlore/evidence/rule/lexicon"
)

// A head file, heads/LANG.head, has the form of a cue file (package syntax):
// entries NAME: PHRASES, of which "language" names the language. Every other
// name is one of the classes below.

// headClasses are what words of column heads, row labels and captions can
// mean.
var headClasses = []string{
	// what the cells of a column say
	"hatched", "nauplii", "emerged", "response", // how many eggs did so
	"time",    // how long they took
	"number",  // counts, where the rest is in per cent
	"percent", // the unit, or the word for it
	"count",   // how many eggs, dishes or trials there were: no outcome
	"stat",    // spread, tests: no outcome
	"foreign", // of adults, ponds, growth: nothing about eggs
	// what was done to the eggs
	"cold", "dry", "undried", "store", "frozen", "temperature", "conductivity", "salinity", "ph", "oxygen", "photoperiod",
	"dark", "lit", "carbon-dioxide", "low-oxygen", "flooding",
	"control", // eggs without the treatment
	"origin",  // where the eggs came from
	// how a phrase hangs together
	"hold",   // words for holding eggs before incubation
	"after",  // begins what came before incubation
	"link",   // small words: none begins or ends a head
	"join",   // joins two treatments
	"within", // makes a time in a head the time of an outcome
	"day", "week", "month", "year", "hour",
}

// hiding are the classes whose phrases hide shorter words inside them.
var hiding = map[string]bool{"foreign": true, "undried": true, "stat": true}

// Reader reads tables with the head words of several languages.
type Reader struct {
	heads map[string]*lexicon.Lexicon // by language
	langs []string                    // in order
}

// Load reads every head file, heads/*.head, of fsys. A reader without any
// reads no tables.
func Load(fsys fs.FS) (*Reader, error) {
	const pattern = "heads/*.head"
	heads, err := lexicon.Load(fsys, pattern)
	if err != nil {
		return nil, err
	}
	names, err := fs.Glob(fsys, pattern)
	if err != nil {
		return nil, fmt.Errorf("list head files: %w", err)
	}
	for _, name := range names {
		b, err := fs.ReadFile(fsys, name)
		if err != nil {
			return nil, fmt.Errorf("read head file: %w", err)
		}
		if err := checkClasses(name, string(b)); err != nil {
			return nil, err
		}
	}
	return &Reader{heads, slices.Sorted(maps.Keys(heads))}, nil
}

// checkClasses reports the first entry of a head file that is no class of head
// words.
func checkClasses(name, text string) error {
	for n, line := range strings.Split(text, "\n") {
		entry, _, ok := strings.Cut(line, ":")
		if !ok || line[0] == '#' || line[0] == ' ' || line[0] == '\t' {
			continue
		}
		if entry = strings.TrimSpace(entry); entry != "language" && !slices.Contains(headClasses, entry) {
			return lexicon.Fault(name, n+1, entry, 0, "unknown class of head words")
		}
	}
	return nil
}

// smallWords returns the head words of class link of a language, none where the
// reader has no head file for it.
func (r *Reader) smallWords(lang string) map[string]bool {
	out := map[string]bool{}
	if lex, ok := r.heads[lang]; ok {
		for _, w := range lex.Singles("link") {
			out[w] = true
		}
	}
	return out
}
