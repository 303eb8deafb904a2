package rule

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
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

// parseHeads reads one head file.
func parseHeads(name, text string) (*lexicon, error) {
	lex, err := parseCues(name, text)
	if err != nil {
		return nil, err
	}
	for n, line := range strings.Split(text, "\n") {
		entry, _, ok := strings.Cut(line, ":")
		if !ok || line[0] == '#' || line[0] == ' ' || line[0] == '\t' {
			continue
		}
		if entry = strings.TrimSpace(entry); entry != "language" && !slices.Contains(headClasses, entry) {
			return nil, &SyntaxError{name, n + 1, 1, entry, "unknown class of head words"}
		}
	}
	return lex, nil
}

// smallWords returns the head words of class link of a language, none where the
// set has no head file for it.
func (s *Set) smallWords(lang string) map[string]bool {
	out := map[string]bool{}
	if lex, ok := s.heads[lang]; ok {
		for _, p := range lex.phrases {
			if p.class == "link" {
				out[p.words[0].text] = true
			}
		}
	}
	return out
}

// loadHeads reads every head file of the folder heads, by language. A set
// without any reads no tables.
func loadHeads(fsys fs.FS) (map[string]*lexicon, error) {
	names, err := fs.Glob(fsys, "heads/*.head")
	if err != nil {
		return nil, fmt.Errorf("list head files: %w", err)
	}
	out := map[string]*lexicon{}
	for _, name := range names {
		b, err := fs.ReadFile(fsys, name)
		if err != nil {
			return nil, fmt.Errorf("read head file: %w", err)
		}
		lex, err := parseHeads(name, string(b))
		if err != nil {
			return nil, err
		}
		out[lex.lang] = lex
	}
	return out, nil
}
