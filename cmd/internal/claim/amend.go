package claim

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/evidence/store"
	"hatchlore/ingest/reference"
	"hatchlore/query"
)

// sayFlags are the flags that give what a claim says.
type sayFlags struct {
	value, low, high, unit                         string
	factor, bearing, taxon, category, stage, cited string
	reason                                         string
}

func (f *sayFlags) register(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&f.value, "value", "", `the value as printed: "10 °C", "50 °F", "at least 30 days", "4–8 weeks"`)
	flags.StringVar(&f.low, "low", "", "low end, a number; empty leaves it open")
	flags.StringVar(&f.high, "high", "", "high end, a number; empty leaves it open")
	flags.StringVar(&f.unit, "unit", "", "unit of --low and --high: degC, degF, d, wk, uS/cm, mS/cm … (default that of the table)")
	flags.StringVar(&f.factor, "factor", "", "factor: "+strings.Join(usage.FactorIDs(), ", "))
	flags.StringVar(&f.bearing, "bearing", "", "favours, prevents, indifferent or reported")
	flags.StringVar(&f.taxon, "taxon", "", "species or genus, written out")
	flags.StringVar(&f.category, "category", "", "a word in place of a number or beside it, as required, low-oxygen, dark")
	flags.StringVar(&f.stage, "stage", "", `emergence or hatching; "" where the paper does not say`)
	flags.StringVar(&f.cited, "cited", "", `whose finding it is when not the paper's own, as printed; "" makes it the paper's own`)
	flags.StringVar(&f.reason, "reason", "", "why, for whoever reads the history")
	for _, end := range []string{"low", "high", "unit"} {
		usage.Either(cmd, "value", end)
	}
	usage.MayBeEmpty(cmd, "low", "high", "category", "stage", "cited", "reason")
}

// put sets in c what the flags give.
func (f *sayFlags) put(cmd *cobra.Command, c *evidence.Claim) error {
	given := func(name string) bool { return cmd.Flags().Changed(name) }
	if given("factor") {
		var err error
		if c.Factor, err = usage.Factor("factor", f.factor); err != nil {
			return err
		}
	}
	if given("bearing") {
		c.Bearing = evidence.Bearing(f.bearing)
	}
	if given("taxon") {
		var err error
		if c.Taxon, err = usage.Taxon("taxon", f.taxon); err != nil {
			return err
		}
	}
	if given("category") {
		c.Category = f.category
	}
	if given("stage") {
		c.Stage = evidence.Stage(f.stage)
	}
	if given("cited") {
		c.Cite(f.cited)
	}
	if given("value") || given("low") || given("high") {
		// What was doubtful about the number was the reading of it.
		c.Implied, c.Inferred = false, false
	}
	if given("value") {
		return putValue(c, f.value)
	}
	return f.putEnds(given, c)
}

// putValue reads a printed value into c.
func putValue(c *evidence.Claim, printed string) error {
	if err := query.SetValue(c, printed); err != nil {
		return usage.Errorf("--value: %w", err)
	}
	return nil
}

// putEnds sets the ends given as numbers.
func (f *sayFlags) putEnds(given func(string) bool, c *evidence.Claim) error {
	if !given("low") && !given("high") {
		if given("unit") {
			return usage.Errorf("--unit goes with --low or --high; a printed value takes its own, as in --value \"10 °C\"")
		}
		return nil
	}
	to := quantity.Unit(c.Unit)
	if to == "" {
		to = quantity.Unit(c.Factor.Unit())
	}
	from := to
	if f.unit != "" {
		from = quantity.Unit(f.unit)
	}
	for _, end := range []struct {
		name, text string
		at         **float64
	}{{"low", f.low, &c.Low}, {"high", f.high, &c.High}} {
		if !given(end.name) {
			continue
		}
		*end.at = nil
		if end.text == "" {
			continue
		}
		v, err := strconv.ParseFloat(strings.Replace(end.text, ",", ".", 1), 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return usage.Errorf("--%s takes a number, not %q", end.name, end.text)
		}
		if v, err = quantity.Convert(v, from, to); err != nil {
			return usage.Errorf("--unit %s: %w", f.unit, err)
		}
		*end.at = &v
	}
	c.Unit, c.Printed = "", ""
	if c.Low != nil || c.High != nil {
		c.Unit, c.Printed = string(to), quantity.FormatRange(c.Low, c.High, to)
	}
	if err := query.CheckNumber(*c); err != nil {
		return usage.Blame(err)
	}
	return nil
}

func amendCommand(at *library.Place) *cobra.Command {
	var f sayFlags
	cmd := &cobra.Command{
		Use:   "amend ID",
		Short: "put right what a claim says; where it stands remains",
		Long: `Puts what you give in place of what was read from the words of the claim. What was read is kept
beside it, and 'claim undo' brings it back. What you do not give stays.`,
		Example: `  hatchlore claim amend 3fa2b --value "10 °C" --reason "the table says °F, the text °C"
  hatchlore claim amend 3fa2b --bearing prevents --stage emergence`,
		Args: oneClaim,
	}
	f.register(cmd)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if !usage.GivesAny(cmd, "reason", "library") {
			return usage.Errorf("say what to amend, as in --value \"10 °C\"; see 'hatchlore claim amend --help'")
		}
		return at.Use(func(lib *library.Library) error {
			id, err := lib.Store().ClaimID(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			c, err := lib.Store().Claim(cmd.Context(), id)
			if err != nil {
				return err
			}
			if err := f.put(cmd, &c); err != nil {
				return err
			}
			return decide(cmd.Context(), cmd.OutOrStdout(), lib, id, store.Decision{Verdict: evidence.Amended, Amended: &c, Reason: f.reason})
		})
	}
	return cmd
}

func addCommand(at *library.Place) *cobra.Command {
	var f sayFlags
	var paper, source, quote string
	var page int
	cmd := &cobra.Command{
		Use:   "add",
		Short: "add a claim by hand, from a page of the library or from a book that is not in it",
		Long: `Adds a claim that you found yourself. With --paper its words must stand on that page of the
library; with --source it comes from a book, a letter or a paper that you have elsewhere, and the
words are those you type.`,
		Example: `  hatchlore claim add --paper hallow1987 --page 4 --quote "none hatched at 25 °C" \
    --taxon "Fictocaris umbrosa" --factor incubation-temperature --bearing prevents --value "25 °C"
  hatchlore claim add --source "Alder, J. (1971): Pools of the fens. Fen Press." --page 88 --quote "…" \
    --taxon "Fictocaris umbrosa" --factor drying --bearing indifferent --category not-required`,
		Args: usage.None,
	}
	f.register(cmd)
	flags := cmd.Flags()
	flags.StringVar(&paper, "paper", "", "key of a paper of the library")
	flags.StringVar(&source, "source", "", "citation of a source that is not in the library")
	flags.StringVar(&quote, "quote", "", "the words that say so, exactly as they stand there")
	flags.IntVar(&page, "page", 0, "page on which they stand; of a paper of the library, counted from its file's first")
	usage.Either(cmd, "paper", "source")
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		for _, need := range []string{"page", "factor", "bearing"} {
			if !cmd.Flags().Changed(need) {
				return usage.Errorf("a claim needs --page, --factor and --bearing; --%s is missing", need)
			}
		}
		if page < 1 {
			return usage.Errorf("--page takes a page counted from 1, not %d", page)
		}
		if (paper == "") == (source == "") {
			return usage.Errorf("say where it stands: --paper KEY, or --source with the citation of a book that is not in the library")
		}
		if strings.TrimSpace(quote) == "" {
			return usage.Errorf("a claim stands on words: give them with --quote")
		}
		c := evidence.Claim{Paper: paper, Page: page, Quote: quote, TaxonPrinted: f.taxon}
		if err := f.put(cmd, &c); err != nil {
			return err
		}
		return at.Use(func(lib *library.Library) error {
			added, err := addClaim(cmd, lib, c, source, f.reason)
			if err != nil {
				return err
			}
			return printStanding(cmd.Context(), cmd.OutOrStdout(), lib, added, "added")
		})
	}
	return cmd
}

func addClaim(cmd *cobra.Command, lib *library.Library, c evidence.Claim, source, reason string) (evidence.Claim, error) {
	if source == "" {
		return lib.Store().AddClaim(cmd.Context(), c, reason, time.Now())
	}
	return lib.Store().AddFromSource(cmd.Context(), citedPaper(source), c, reason, time.Now())
}

// citedPaper is what a citation tells of a source: the keeper's own words for
// it, with authors and year as far as they can be read from them.
func citedPaper(citation string) store.Paper {
	citation = strings.Join(strings.Fields(citation), " ")
	p := store.Paper{Source: citation, Title: citation}
	var r reference.Record
	if entries := reference.Entries(citation); len(entries) == 1 {
		r = entries[0].Record
	}
	for _, a := range r.Authors {
		p.Authors = append(p.Authors, strings.TrimSuffix(fmt.Sprintf("%s, %s", a.Family, a.Given), ", "))
	}
	p.Year, p.Journal, p.Volume, p.Extent, p.DOI = r.Year, r.Journal, r.Volume, r.Pages, r.DOI
	if r.Title != "" {
		p.Title = r.Title
	}
	r.Stem = citation
	p.Key = reference.Key(r, func(string) bool { return false })
	return p
}
