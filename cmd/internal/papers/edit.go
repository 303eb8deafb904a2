package papers

import (
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/store"
	"hatchlore/ingest/reference"
)

func editCommand(at *library.Place) *cobra.Command {
	var to store.Record
	cmd := &cobra.Command{
		Use:   "edit KEY",
		Short: "mend what the library has as a paper's reference",
		Long: `Puts what you give in place of what was read from the paper's first page. It outlives every new
reading of the paper. What you do not give stays.`,
		Example: `  hatchlore papers edit fen1962 --author "Haldersby, P. Q." --year 1962 --key haldersby1962`,
		Args:    usage.One("the paper's key in 'hatchlore papers'"),
	}
	flags := cmd.Flags()
	flags.StringVar(&to.Key, "key", "", "another key: letters and digits")
	flags.StringVar(&to.Title, "title", "", "title")
	flags.StringArrayVar(&to.Authors, "author", nil, `author as "Family, Given"; once for each, in the paper's order`)
	flags.IntVar(&to.Year, "year", 0, "year of publication")
	flags.StringVar(&to.Journal, "journal", "", "journal")
	flags.StringVar(&to.Volume, "volume", "", "volume")
	flags.StringVar(&to.Extent, "pages", "", "its pages in the journal")
	flags.StringVar(&to.DOI, "doi", "", "DOI")
	usage.MayBeEmpty(cmd, "title", "journal", "volume", "pages", "doi")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if err := checkRecord(cmd, &to); err != nil {
			return err
		}
		return at.Use(func(lib *library.Library) error {
			head, err := lib.Store().Head(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			mended := mendedRecord(cmd, head, to)
			if err := lib.Mend(cmd.Context(), args[0], mended); err != nil {
				return err
			}
			now, err := lib.Store().Listing(cmd.Context(), mended.Key)
			if err != nil {
				return err
			}
			return terminal.Say(cmd.OutOrStdout(), "%s: %s", now.Paper, citationLine(now))
		})
	}
	return cmd
}

// checkRecord refuses what cannot be part of a reference.
func checkRecord(cmd *cobra.Command, to *store.Record) error {
	given := func(name string) bool { return cmd.Flags().Changed(name) }
	if cmd.Flags().NFlag() == 0 {
		return usage.Errorf("say what to mend, as in --year 1987; see 'hatchlore papers edit --help'")
	}
	if given("year") && (to.Year < 1500 || to.Year > 2999) {
		return usage.Errorf("--year takes a year of publication, not %d", to.Year)
	}
	if given("doi") && to.DOI != "" {
		doi := reference.FindDOI(to.DOI)
		if doi == "" {
			return usage.Errorf("--doi takes a DOI such as 10.1234/abc, not %q", to.DOI)
		}
		to.DOI = doi
	}
	if given("key") && !isKey(to.Key) {
		return usage.Errorf("--key takes small letters and digits, not %q", to.Key)
	}
	for _, a := range to.Authors {
		if !strings.ContainsFunc(a, unicode.IsLetter) {
			return usage.Errorf("--author takes a name as \"Family, Given\", not %q", a)
		}
	}
	return nil
}

// isKey reports whether s can be a paper's key: small letters and digits, with
// hyphens between.
func isKey(s string) bool {
	for _, r := range s {
		if (r < 'a' || r > 'z') && (r < '0' || r > '9') && r != '-' {
			return false
		}
	}
	return s != "" && s[0] != '-'
}

// mendedRecord is the paper's record with what the flags give put in.
func mendedRecord(cmd *cobra.Command, head store.Paper, to store.Record) store.Record {
	r := head.Record()
	given := func(name string) bool { return cmd.Flags().Changed(name) }
	for name, x := range map[string]struct{ into, from *string }{
		"key": {&r.Key, &to.Key}, "title": {&r.Title, &to.Title}, "journal": {&r.Journal, &to.Journal},
		"volume": {&r.Volume, &to.Volume}, "pages": {&r.Extent, &to.Extent}, "doi": {&r.DOI, &to.DOI},
	} {
		if given(name) {
			*x.into = *x.from
		}
	}
	if given("year") {
		r.Year = to.Year
	}
	if given("author") {
		r.Authors = to.Authors
	}
	return r
}
