package trials

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/trialprint"
	"hatchlore/cmd/internal/usage"
	corpus "hatchlore/corpus-sample"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/bench"
	"hatchlore/evidence/trial/design"
	"hatchlore/query"
)

// planFlags are the flags of trial plan as given.
type planFlags struct {
	name                                string
	eggs, keepBack, dishes, eggsPerDish int
	lots, clutches                      []string
	chambers                            []string
	runs, look, incubate                int
	start, triggerDay                   string
	forward                             bool
	bar                                 string
	factors, held, without              []string
	settle                              []string
	base, rho, difference               float64
	whatIf                              []int
	seed                                uint64
	save                                bool
}

func planCommand(at *library.Place) *cobra.Command {
	var f planFlags
	cmd := &cobra.Command{
		Use:   "plan TAXON --eggs N",
		Short: "treatments, dishes, dates and odds for the disagreements about a species",
		Long: `Lays out a trial for the disagreements that the library holds about TAXON: levels where the
sides stand and untreated eggs beside them, dishes drawn by lot under blind labels, a calendar,
and the chance that the counts settle each question. Only the eggs are needed, as --eggs or as
lots of the library; every other figure has a default, which the plan states. The same library,
flags and --seed give the same plan.

Where there is a library the plan is kept in it, for 'trial list', 'trial sheet' and 'trial
record'; --save=false only shows it.`,
		Example: `  hatchlore trial plan "Lirrobranchus tessulatus" --eggs 240 --chambers 5,12 --start 2026-01-10
  hatchlore trial plan "Lirrobranchus tessulatus" --lot "moor 3" --lot "moor 4=60" --bar sat,sun,2026-12-25
  hatchlore trial plan Lirrobranchus --eggs 200 --factor drying=0,14 --factor trigger=flooding,low-oxygen
  hatchlore trial plan Lirrobranchus --eggs 60 --factor drying=0,28 --hold stratification-length=60
  hatchlore trial plan "Lirrobranchus tessulatus" --eggs 200 --without conductivity`,
		Args: usage.Some("a species or genus"),
	}
	flags := cmd.Flags()
	flags.StringVar(&f.name, "name", "", "id of the trial (default made of taxon, first day and seed)")
	flags.IntVar(&f.eggs, "eggs", 0, "eggs on hand (default what the lots hold)")
	flags.StringArrayVar(&f.lots, "lot", nil, "lot that the eggs come from, as NAME or NAME=EGGS; each is a block of its own (default, without --eggs: the library's lots of this taxon)")
	flags.StringArrayVar(&f.clutches, "clutch", nil, "clutch that the eggs come from, as NAME=EGGS or LOT/NAME=EGGS; each is a block of its own")
	flags.IntVar(&f.keepBack, "keep-back", 0, "eggs not to be used (default a tenth, at least 10)")
	flags.IntVar(&f.dishes, "dishes", 0, "most dishes to look after (default 48)")
	flags.IntVar(&f.eggsPerDish, "eggs-per-dish", 0, "eggs in a dish (default chosen between 5 and 50)")
	flags.StringSliceVar(&f.chambers, "chambers", nil, "temperature in °C that each chamber can hold: 5,12 or 4-20")
	flags.IntVar(&f.runs, "runs", 0, "chamber runs for each temperature (default 1)")
	flags.IntVar(&f.incubate, "incubate", 0, "days to lie wetted before the trigger, for embryos that emerge first and hatch when triggered (default 1)")
	flags.IntVar(&f.look, "look", 0, "days to look after the trigger (default 14)")
	flags.StringVar(&f.start, "start", "", "first day, as 2026-01-10 (default today)")
	flags.StringVar(&f.triggerDay, "trigger-day", "", "the day on which all dishes meet the trigger, instead of --start")
	flags.BoolVar(&f.forward, "forward", false, "all dishes start on the first day, each to meet the trigger when its treatment is done")
	flags.StringVar(&f.bar, "bar", "", "weekdays and dates without handling, as sat,sun,2026-12-25")
	flags.StringArrayVar(&f.factors, "factor", nil, "a factor with its levels, as drying=0,14; one level of a treatment is compared with none; given once or more, it takes the place of the library's disagreements")
	flags.StringArrayVar(&f.held, "hold", nil, "a setting that all dishes share, the untreated ones too, as stratification-length=60")
	flags.StringSliceVar(&f.without, "without", nil, "a factor that you cannot set, as conductivity without a meter: disagreements about it are left out")
	flags.StringArrayVar(&f.settle, "settle", nil, "settle this disagreement only, by its number or id in 'hatchlore conflicts'")
	flags.Float64Var(&f.base, "base", 0, "fraction hatched without help (default that of your own finished trials, else 0.3)")
	flags.Float64Var(&f.rho, "rho", 0, "likeness of eggs in one dish, 0 to 1 (default by your own finished trials and what is usual, else 0.05)")
	flags.Float64Var(&f.difference, "difference", 0, "smallest difference of the hatched fraction worth finding (default 0.2)")
	flags.IntSliceVar(&f.whatIf, "what-if", nil, "other numbers of eggs to weigh up (default half and double)")
	flags.Uint64Var(&f.seed, "seed", 1, "for the draw of dishes and labels")
	flags.BoolVar(&f.save, "save", true, "keep the plan in the library, where there is one")
	usage.Either(cmd, "start", "trigger-day")
	usage.Either(cmd, "forward", "trigger-day")
	format := usage.FormatFlag(cmd, listing.Table, listing.JSON, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		req, err := f.request(cmd, strings.Join(args, " "))
		if err != nil {
			return err
		}
		return at.UseIfAny(func(lib *library.Library) error {
			return f.plan(cmd, lib, req, *format)
		})
	}
	return cmd
}

// request turns the flags into what the planner takes. The questions come
// from the library later.
func (f *planFlags) request(cmd *cobra.Command, taxon string) (design.Request, error) {
	req := design.Request{
		Trial: f.name, Taxon: taxon, Eggs: f.eggs, Dishes: f.dishes, EggsPerDish: f.eggsPerDish, Runs: f.runs, LookDays: f.look,
		Incubate: f.incubate, Forward: f.forward, BaseFraction: f.base, Difference: f.difference, Seed: f.seed,
	}
	if err := f.check(cmd); err != nil {
		return req, err
	}
	if cmd.Flags().Changed("keep-back") {
		req.KeepBack = &f.keepBack
	}
	if cmd.Flags().Changed("rho") {
		req.Rho = &f.rho
	}
	var err error
	if req.Chambers, err = trial.ParseChambers(f.chambers); err != nil {
		return req, usage.Errorf("--chambers: %w", err)
	}
	for _, s := range f.factors {
		factor, err := trial.ParseFactor(s)
		if err != nil {
			return req, usage.Errorf("--factor %s: %w", s, err)
		}
		req.Factors = append(req.Factors, factor)
	}
	for _, s := range f.held {
		held, err := trial.ParseHeld(s)
		if err != nil {
			return req, usage.Errorf("--hold %s: %w", s, err)
		}
		req.Held = append(req.Held, held)
	}
	for _, s := range f.without {
		id, err := trial.ParseSettable(s)
		if err != nil {
			return req, usage.Errorf("--without %s: %w", s, err)
		}
		req.Without = append(req.Without, id)
	}
	return req, f.days(&req)
}

// longestName keeps a trial's id short enough for file names and sheets.
const longestName = 80

// check refuses numbers that are none.
func (f *planFlags) check(cmd *cobra.Command) error {
	given := cmd.Flags().Changed
	for _, n := range []struct {
		name         string
		value, least int
	}{
		{"eggs", f.eggs, 1}, {"dishes", f.dishes, 1}, {"eggs-per-dish", f.eggsPerDish, 1}, {"runs", f.runs, 1},
		{"look", f.look, 1}, {"incubate", f.incubate, 0}, {"keep-back", f.keepBack, 0},
	} {
		if given(n.name) && n.value < n.least {
			return usage.Errorf("--%s takes a number of at least %d, not %d", n.name, n.least, n.value)
		}
	}
	for _, n := range f.whatIf {
		if n < 1 {
			return usage.Errorf("--what-if takes numbers of at least 1, not %d", n)
		}
	}
	if given("rho") && !(f.rho >= 0 && f.rho < 1) {
		return usage.Errorf("--rho takes a fraction from 0 to below 1, not %v", f.rho)
	}
	for _, v := range []struct {
		name  string
		value float64
	}{{"base", f.base}, {"difference", f.difference}} {
		if given(v.name) && !(v.value > 0 && v.value < 1) {
			return usage.Errorf("--%s takes a fraction above 0 and below 1, not %v", v.name, v.value)
		}
	}
	if strings.ContainsFunc(f.name, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '-' }) || len(f.name) > longestName {
		return usage.Errorf("--name takes up to %d letters, digits and hyphens, not %q", longestName, f.name)
	}
	return nil
}

func (f *planFlags) days(req *design.Request) (err error) {
	if req.Barred, err = bench.ParseBarred(f.bar); err != nil {
		return usage.Errorf("--bar: %w", err)
	}
	switch {
	case f.triggerDay != "":
		req.Trigger, err = usage.Day("trigger-day", f.triggerDay)
	case f.start != "":
		req.Start, err = usage.Day("start", f.start)
	default:
		req.Start = trial.DayOf(time.Now())
	}
	return err
}

// plan lays a trial out, keeps it and prints it. Factors by hand need no
// library; else the questions are the library's disagreements.
func (f *planFlags) plan(cmd *cobra.Command, lib *library.Library, req design.Request, format string) error {
	if err := f.needEggs(cmd, lib, req); err != nil {
		return err
	}
	assumed, err := f.fromLibrary(cmd, lib, &req)
	if err != nil {
		return err
	}
	if err := f.drawOnLots(cmd, lib, &req); err != nil {
		return err
	}
	if req.WhatIf = f.whatIf; len(f.whatIf) == 0 {
		req.WhatIf = req.HalfAndDouble()
	}
	p, err := design.New(req)
	if err != nil {
		return withFlag(err)
	}
	p.Assumed = append(p.Assumed, assumed...)
	if note := corpus.InventedNote(p.Taxon); note != "" {
		p.Cautions = slices.Insert(p.Cautions, 0, note)
	}
	kept := f.save && lib != nil && keep(cmd, lib, p)
	if err := tellPromised(cmd, lib, req.Lots, p.Trial); err != nil {
		return err
	}
	if format != listing.Table {
		return emitPlan(cmd.OutOrStdout(), format, p)
	}
	return trialprint.Plan(cmd.OutOrStdout(), p, kept)
}

// withFlag says which flag gives what the planner misses.
func withFlag(err error) error {
	for _, lack := range []struct {
		what error
		flag string
	}{{design.ErrNoEggs, "--eggs 240"}, {design.ErrNoDay, "--start 2026-01-10"}, {design.ErrNoAim, "--factor drying=0,14"}} {
		if errors.Is(err, lack.what) {
			return fmt.Errorf("%w, such as %s", err, lack.flag)
		}
	}
	return err
}

// fromLibrary fills in what the library knows, where there is one.
func (f *planFlags) fromLibrary(cmd *cobra.Command, lib *library.Library, req *design.Request) ([]string, error) {
	if lib == nil {
		if len(req.Factors) == 0 || len(f.settle) > 0 {
			return nil, fmt.Errorf("%w; or name what to try with --factor drying=0,14", library.ErrNone)
		}
		return nil, nil
	}
	assumed, err := lib.Answers().FromLibrary(cmd.Context(), req, f.settle)
	var unknown *query.UnknownDispute
	var nothing *query.NothingToSettle
	switch {
	case errors.As(err, &unknown):
		return nil, usage.Errorf("--settle %s: 'hatchlore conflicts' lists the numbers and ids to choose from", unknown.Named)
	case errors.As(err, &nothing):
		return nil, fmt.Errorf("%w; name factors with --factor drying=0,14", err)
	}
	return assumed, err
}

// keep stores the plan and puts its id in its place. A library that cannot be
// written does not keep the keeper from the plan.
func keep(cmd *cobra.Command, lib *library.Library, p *trial.Plan) bool {
	id, err := lib.Store().KeepTrial(cmd.Context(), p)
	if err != nil {
		terminal.Say(cmd.ErrOrStderr(), "hatchlore: the plan is not kept: %s", terminal.Sentence(err.Error()))
		return false
	}
	p.Trial = id
	return true
}

func emitPlan(w io.Writer, format string, p *trial.Plan) error {
	switch format {
	case listing.JSON:
		return listing.WriteJSON(w, p)
	case listing.JSONL:
		return listing.WriteJSONL(w, []*trial.Plan{p})
	}
	return listing.WriteCSV(w, benchRows(p))
}

// benchRow is one step of one dish, as a line of CSV for the bench.
type benchRow struct {
	Dish    int    `json:"dish"`
	Label   string `json:"label"`
	Chamber string `json:"chamber"`
	Run     int    `json:"run"`
	Eggs    int    `json:"eggs"`
	Lot     string `json:"lot"`
	Date    string `json:"date"`
	Do      string `json:"do"`
}

func benchRows(p *trial.Plan) []benchRow {
	var out []benchRow
	for _, d := range p.Dishes {
		for _, s := range d.Steps {
			out = append(out, benchRow{d.Dish, d.Label, d.Chamber, d.Run, d.Eggs, d.Lot, s.Date.String(), s.Do})
		}
	}
	return out
}
