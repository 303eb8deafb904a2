// Package lots has the commands over lots of eggs: where they come from and how
// many are left.
//
// It refuses to show the place in full unless it is asked to.
package lots

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
)

// Command is the command over lots of eggs, with those below it.
func Command(at *library.Place) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "lot",
		Short: "lots of eggs: where they come from and how many are left",
		Args:  usage.None,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return usage.Errorf("say what to do with the lot: hatchlore lot add NAME --taxon TAXON --eggs N, or hatchlore lot list")
		},
	}
	cmd.AddCommand(addCommand(at), editCommand(at), listCommand(at))
	return cmd
}

// lotFlags are the flags that say what is known of a lot.
type lotFlags struct {
	store.Lot
	sieve  float64
	reason string
}

func (f *lotFlags) bind(cmd *cobra.Command, eggs string) {
	flags := cmd.Flags()
	flags.IntVar(&f.Eggs, "eggs", 0, eggs)
	flags.StringVar(&f.Taxon, "taxon", "", "species, or genus where that is all that is known")
	flags.StringVar(&f.Region, "region", "", "the place as it may be told: a county or a landscape, not the pool")
	flags.StringVar(&f.Site, "site", "", "the place in full, words or coordinates; shown only when asked for")
	flags.StringVar(&f.Collector, "collector", "", "who collected")
	flags.StringVar(&f.Permit, "permit", "", "number of the permit")
	flags.StringVar(&f.Collected, "date", "", "day of collecting, as 2025-10-30")
	flags.StringVar(&f.Sediment, "sediment", "", "what the eggs lay in and how it was kept")
	flags.Float64Var(&f.sieve, "sieve", 0, "mesh of the sieve that held the eggs, µm")
	flags.StringVar(&f.Note, "note", "", "anything else")
	usage.MayBeEmpty(cmd, "region", "site", "collector", "permit", "date", "sediment", "note")
}

// mostEggs is more than anybody has in one lot: some kilograms of the smallest
// eggs (from memory, no source).
const mostEggs = 1_000_000_000

// check refuses what cannot be said of a lot.
func (f *lotFlags) check(cmd *cobra.Command) error {
	given := cmd.Flags().Changed
	if given("taxon") {
		var err error
		if f.Taxon, err = usage.Taxon("taxon", f.Taxon); err != nil {
			return err
		}
	}
	switch {
	case f.Eggs < 0 || f.Eggs > mostEggs:
		return usage.Errorf("--eggs takes a number from 0 to %d, not %d", mostEggs, f.Eggs)
	case given("sieve") && !(f.sieve > 0 && f.sieve <= 10000):
		return usage.Errorf("--sieve takes a mesh in µm, such as 150, not %v", f.sieve)
	case f.Collected != "":
		_, err := usage.Day("date", f.Collected)
		return err
	}
	return nil
}

func addCommand(at *library.Place) *cobra.Command {
	var f lotFlags
	cmd := &cobra.Command{
		Use:   "add NAME --taxon TAXON --eggs N",
		Short: "enter a lot of eggs",
		Long: `Enters a lot of eggs of one origin. 'trial plan' draws on the lots of its taxon, 'trial record'
takes the eggs of counted dishes out. The place in full (--site) stays in the library; what other
commands show and pass on is --region.`,
		Example: `  hatchlore lot add "moor 3" --taxon "Lirrobranchus tessulatus" --eggs 180 --region "northern moors" \
      --collector "own" --permit N-17/25 --date 2025-10-30 --sediment "peat, dried in the shade" --sieve 150`,
		Args: usage.One("the lot"),
	}
	f.bind(cmd, "eggs in the lot")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		f.Name = terminal.Clean(args[0])
		if err := f.check(cmd); err != nil {
			return err
		}
		switch {
		case strings.Contains(f.Name, "="):
			return usage.Errorf("a lot's name has no =, for 'trial plan --lot NAME=EGGS' would misread it")
		case f.Taxon == "":
			return usage.Errorf("say what the eggs are of: --taxon \"Genus species\"")
		case !cmd.Flags().Changed("eggs"):
			return usage.Errorf("say how many eggs the lot holds: --eggs 180")
		}
		f.setSieve(cmd)
		// A keeper may have eggs before papers.
		err := at.UseNew(func(lib *library.Library) error { return lib.Store().AddLot(cmd.Context(), f.Lot) })
		if err != nil {
			return err
		}
		return terminal.Say(cmd.OutOrStdout(), "lot %s: %s of %s", f.Name, trial.Plural(f.Eggs, "egg"), f.Taxon)
	}
	return cmd
}

func (f *lotFlags) setSieve(cmd *cobra.Command) {
	if cmd.Flags().Changed("sieve") {
		f.Sieve = &f.sieve
	}
}

func editCommand(at *library.Place) *cobra.Command {
	var f lotFlags
	cmd := &cobra.Command{
		Use:     "edit NAME",
		Short:   "change what is known of a lot, or enter a new count of its eggs",
		Long:    "Changes what is given; the rest stays. A new count is entered beside the old ones, with its reason.",
		Example: `  hatchlore lot edit "moor 3" --eggs 164 --reason "recounted after picking"`,
		Args:    usage.One("the lot in 'hatchlore lot list'"),
	}
	f.bind(cmd, "eggs left, counted anew")
	cmd.Flags().StringVar(&f.reason, "reason", "recounted", "why the number of eggs changed")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if err := f.check(cmd); err != nil {
			return err
		}
		if !usage.GivesAny(cmd, "reason", "library") {
			return usage.Errorf("say what to change, as in --eggs 164; see 'hatchlore lot edit --help'")
		}
		f.setSieve(cmd)
		return at.Use(func(lib *library.Library) error {
			l, err := lib.Store().Lot(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			var left *int
			if cmd.Flags().Changed("eggs") {
				left = &f.Eggs
			}
			if err := lib.Store().EditLot(cmd.Context(), f.over(cmd, l), left, f.reason); err != nil {
				return err
			}
			now, err := lib.Store().Lot(cmd.Context(), l.Name)
			if err != nil {
				return err
			}
			return terminal.Say(cmd.OutOrStdout(), "lot %s: %s of %s left", now.Name, trial.Plural(now.Left, "egg"), now.Taxon)
		})
	}
	return cmd
}

// over returns l with what the flags give in its place.
func (f *lotFlags) over(cmd *cobra.Command, l store.Lot) store.Lot {
	for name, to := range map[string]struct{ from, to *string }{
		"taxon": {&f.Taxon, &l.Taxon}, "region": {&f.Region, &l.Region}, "site": {&f.Site, &l.Site}, "collector": {&f.Collector, &l.Collector},
		"permit": {&f.Permit, &l.Permit}, "date": {&f.Collected, &l.Collected}, "sediment": {&f.Sediment, &l.Sediment}, "note": {&f.Note, &l.Note},
	} {
		if cmd.Flags().Changed(name) {
			*to.to = *to.from
		}
	}
	if f.Sieve != nil {
		l.Sieve = f.Sieve
	}
	return l
}

func listCommand(at *library.Place) *cobra.Command {
	var exact bool
	cmd := &cobra.Command{
		Use:   "list [NAME]",
		Short: "the lots and the eggs left in them; of one lot, also what went in and out",
		Example: `  hatchlore lot list
  hatchlore lot list "moor 3"`,
		Args: usage.OneAtMost("the lot in 'hatchlore lot list'"),
	}
	cmd.Flags().BoolVar(&exact, "exact", false, "show the place in full too")
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return at.Use(func(lib *library.Library) error {
			if len(args) == 1 {
				entries, err := lib.Store().LotEntries(cmd.Context(), args[0])
				if err != nil {
					return err
				}
				l, err := lib.Store().Lot(cmd.Context(), args[0])
				if err != nil {
					return err
				}
				return listing.Emit(cmd.OutOrStdout(), *format, entries, func(w io.Writer, entries []store.LotEntry) error {
					if err := printLots(w, []store.Lot{l}, exact); err != nil {
						return err
					}
					fmt.Fprintln(w)
					return printEntries(w, entries)
				})
			}
			lots, err := lib.Store().Lots(cmd.Context())
			if err != nil {
				return err
			}
			for i := range lots {
				if !exact {
					lots[i].Site = ""
				}
			}
			return listing.Emit(cmd.OutOrStdout(), *format, lots, func(w io.Writer, lots []store.Lot) error { return printLots(w, lots, exact) })
		})
	}
	return cmd
}

func printLots(w io.Writer, lots []store.Lot, exact bool) error {
	if len(lots) == 0 {
		_, err := fmt.Fprintln(w, "no lots yet: 'hatchlore lot add NAME --taxon TAXON --eggs N' enters one")
		return err
	}
	g := &terminal.Grid{Heads: []string{"lot", "taxon", "eggs left", "of", "collected", "sieve", "from"}}
	for _, l := range lots {
		sieve := ""
		if l.Sieve != nil {
			sieve = fmt.Sprintf("%g µm", *l.Sieve)
		}
		from := l.Region
		if exact && l.Site != "" {
			from = strings.TrimPrefix(from+"; "+l.Site, "; ")
		}
		g.Add(l.Name, l.Taxon, fmt.Sprint(l.Left), fmt.Sprint(l.Eggs), l.Collected, sieve, from)
		for _, more := range []struct{ what, text string }{
			{"collector", l.Collector}, {"permit", l.Permit}, {"sediment", l.Sediment}, {"note", l.Note},
		} {
			if more.text != "" {
				g.Under(more.what + ": " + more.text)
			}
		}
		if l.Left < 0 {
			g.Under("more eggs were counted in dishes than the lot held: 'hatchlore lot edit' enters a new count")
		}
	}
	return g.Print(w, 0, terminal.Width(w))
}

func printEntries(w io.Writer, entries []store.LotEntry) error {
	g := &terminal.Grid{Heads: []string{"day", "eggs", "left", "why"}}
	left := 0
	for _, e := range entries {
		left += e.Eggs
		g.Add(e.At.Format("2006-01-02"), fmt.Sprintf("%+d", e.Eggs), fmt.Sprint(left), e.Reason)
	}
	return g.Print(w, 0, terminal.Width(w))
}
