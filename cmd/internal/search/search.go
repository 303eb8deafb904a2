// Package search has the command that searches the pages of the library.
//
// It refuses to call a library searched that was not: papers that are not in
// the index yet, or came without text, are told.
package search

import (
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/trial"
	"hatchlore/query"
	"hatchlore/query/index/question"
)

// flags are the flags of query as given.
type flags struct {
	year, factor, paper string
	section             usage.Choice
	limit               int
	format              *string
}

// Command is the command that searches the pages.
func Command(at *library.Place) *cobra.Command {
	f := flags{section: usage.Choice{Allowed: query.Sections}}
	cmd := &cobra.Command{
		Use:   "query WORDS...",
		Short: "search the pages of the library",
		Long: `Finds the pages that have all that is asked for, the best first: methods and results before
the rest, reference lists last. Where no page has all of it, those with the most of it are shown,
and what each lacks.

  cold drying            pages with both words, in any form: "hatch" also finds "hatching", in
                         English, German, French, Spanish, Italian and Portuguese; with or without accents
  '"cold period"'        the words side by side, as they stand
  'dry|freeze'           either; also '"dry ice"|frozen'
  -- eggs -frozen        without a word; also -'"dry ice"'
  -- -18 °C              a number below zero; with its unit beside it is better than apart
  Fictocaris             a genus: also its species, under their abbreviated names and older ones
  Fictocaris umbrosa     a species: also F. umbrosa where the page means this one
  F. umbrosa             every species that this may stand for
  '"F. umbrosa"'         these letters and nothing else

Older names are those that 'hatchlore species alias' was told. Words such as "the" need not be on
the page. Names one letter off are offered.`,
		Example: `  hatchlore query conductivity hatching
  hatchlore query '"low oxygen"' --year 1980-2000
  hatchlore query Fictocaris cold --factor stratification-length --section results`,
		Args: usage.Some("the words to look for"),
	}
	cmd.Flags().StringVar(&f.year, "year", "", "published in this year, or in these: 1980-1999, 1980-, -1999")
	cmd.Flags().StringVar(&f.factor, "factor", "", "pages with a claim about this factor: "+strings.Join(usage.FactorIDs(), ", "))
	cmd.Flags().StringVar(&f.paper, "paper", "", "in this paper, by its key in 'hatchlore papers'")
	cmd.Flags().Var(&f.section, "section", "in this part of the papers: "+strings.Join(f.section.Allowed, ", "))
	cmd.Flags().IntVar(&f.limit, "limit", 20, "most pages to show")
	f.format = usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.SetFlagErrorFunc(func(_ *cobra.Command, err error) error {
		return usage.Errorf("%w; to leave a word out write -- before the words; see 'hatchlore query --help'", usage.FlagWords(err))
	})
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		s, err := f.search(strings.Join(args, " "))
		if err != nil {
			return err
		}
		return at.Use(func(lib *library.Library) error { return f.answer(cmd, lib, s) })
	}
	return cmd
}

// search turns the flags into what is asked of the library: one page more than
// is shown, which tells whether there are more.
func (f *flags) search(words string) (query.Search, error) {
	s := query.Search{Words: words, Factor: f.factor, Paper: f.paper, Section: f.section.Value, Limit: f.limit + 1}
	for w := range strings.FieldsSeq(words) {
		if utf8.RuneCountInString(w) > longestWord {
			return s, usage.Errorf("no word is longer than %d letters: %s", longestWord, w)
		}
	}
	if f.limit < 1 || f.limit > mostShown {
		return s, usage.Errorf("--limit takes a number from 1 to %d, not %d", mostShown, f.limit)
	}
	if f.factor != "" {
		if _, err := usage.Factor("factor", f.factor); err != nil {
			return s, err
		}
	}
	var err error
	s.From, s.To, err = parseYears(f.year)
	return s, err
}

// answer searches and prints what is found.
func (f *flags) answer(cmd *cobra.Command, lib *library.Library, s query.Search) error {
	answers, err := lib.Searching(cmd.Context())
	if err != nil {
		return err
	}
	if s.Paper != "" {
		if _, err := lib.Store().Listing(cmd.Context(), s.Paper); err != nil {
			return err
		}
	}
	found, err := answers.Answer(cmd.Context(), s)
	switch {
	case errors.Is(err, question.ErrNothing):
		return usage.Errorf("%w; see 'hatchlore query --help'", question.ErrNothing)
	case err != nil:
		return err
	}
	more := len(found.Hits) > f.limit
	found.Hits = found.Hits[:min(f.limit, len(found.Hits))]
	if n := lib.Behind(); n > 0 {
		if err := terminal.Say(cmd.ErrOrStderr(), "hatchlore: %s", behindNote(lib, n)); err != nil {
			return err
		}
	}
	return listing.Emit(cmd.OutOrStdout(), *f.format, found.Hits, func(w io.Writer, hits []query.Hit) error {
		textless := 0
		if found.Short() {
			var err error
			if textless, err = lib.Textless(cmd.Context()); err != nil {
				return err
			}
		}
		if note := answerNote(found, s.Words, narrowed(cmd), textless); note != "" {
			if _, err := fmt.Fprintln(w, terminal.Sentence(note)); err != nil {
				return err
			}
		}
		for i, h := range hits {
			hits[i].Lacks = found.Missing(h) // the rest is said above
		}
		if err := Print(w, hits); err != nil || !more {
			return err
		}
		return terminal.Say(w, "more pages have it: --limit %d shows up to that many", 2*f.limit)
	})
}

// mostShown is more pages than anybody reads.
const mostShown = 1_000_000

// longestWord is longer than any word or name on a page.
const longestWord = 200

// behindNote says why searches do not see n papers.
func behindNote(lib *library.Library, n int) string {
	note := trial.Plural(n, "paper") + " cannot be found yet: "
	if holder := lib.Store().Holder(); holder != nil {
		return note + holder.Error()
	}
	return note + "'hatchlore check' puts what is missing into the search index"
}

// narrowed names the flags that keep pages out of a search.
func narrowed(cmd *cobra.Command) string {
	out := ""
	for _, name := range []string{"year", "factor", "paper", "section"} {
		if f := cmd.Flag(name); f.Changed {
			out += fmt.Sprintf(" --%s %s", name, f.Value)
		}
	}
	return out
}

// answerNote says what an answer lacks, "" where it lacks nothing: what no page has,
// within what, what is spelled like it, and how many papers could not be searched.
func answerNote(found query.Answer, asked, within string, textless int) string {
	var notes []string
	if found.Short() {
		what := asked
		if found.Partly {
			what = "all of it"
		}
		if within != "" {
			what += " within" + within
		}
		notes = append(notes, "no page has "+what)
		if len(found.Absent) > 0 && strings.Join(found.Absent, " ") != asked {
			notes = append(notes, "none at all has "+strings.Join(found.Absent, " or "))
		}
	}
	for _, n := range found.Near {
		to := n.Word
		if to == asked {
			to = "it"
		}
		notes = append(notes, fmt.Sprintf("near to %s: %s", to, n.Name))
	}
	if found.Partly {
		notes = append(notes, "these have the most of it")
	}
	if textless > 0 {
		notes = append(notes, trial.Plural(textless, "paper")+" from another library came without text, which 'hatchlore ingest' adds from the files")
	}
	return strings.Join(notes, "; ")
}

// parseYears reads 1987, 1980-1999, 1980- or -1999; 0 is open.
func parseYears(s string) (from, to int, err error) {
	if s == "" {
		return 0, 0, nil
	}
	low, high, span := strings.Cut(s, "-")
	if !span {
		high = low
	}
	wrong := usage.Errorf("--year takes 1987, 1980-1999, 1980- or -1999, not %q", s)
	if low == "" && high == "" {
		return 0, 0, wrong
	}
	for _, x := range []struct {
		text string
		into *int
	}{{low, &from}, {high, &to}} {
		if x.text == "" {
			continue
		}
		if *x.into, err = strconv.Atoi(strings.TrimSpace(x.text)); err != nil || *x.into < 1 || *x.into > 9999 {
			return 0, 0, wrong
		}
	}
	if from > 0 && to > 0 && from > to {
		return 0, 0, wrong
	}
	return from, to, nil
}

// Print shows hits for a person, the words found emphasised on a terminal.
func Print(w io.Writer, hits []query.Hit) error {
	width := terminal.Width(w)
	st := terminal.StyleOf(w)
	for _, h := range hits {
		found := foundWords(h)
		where := fmt.Sprintf("%s, p. %d", h.Citation, h.Page)
		if h.Section != "" {
			where += ", " + h.Section
		}
		if len(h.Lacks) > 0 {
			where += "; without " + strings.Join(h.Lacks, ", ")
		}
		fmt.Fprintf(w, "%s  (%s)\n", terminal.Clean(where), terminal.Clean(h.Source))
		for _, l := range terminal.Fold(h.Before+h.Snippet+h.After, width-4) {
			if _, err := fmt.Fprintf(w, "    %s\n", st.Words(l, found)); err != nil {
				return err
			}
		}
	}
	return nil
}

// foundWords are the words of a snippet that a search found. Folding moves
// them, so that they are found again by their letters.
func foundWords(h query.Hit) []string {
	runes := []rune(h.Snippet)
	var found []string
	for _, m := range h.Marks {
		if w := string(runes[m[0]:m[1]]); w != "" && !strings.ContainsAny(w, " \n") {
			found = append(found, w)
		}
	}
	return found
}
