package main

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/evidence/trial"
	"hatchlore/query"
	"hatchlore/species"
)

func (a *app) trialCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "trial",
		Short: "lay out a trial that can settle a disagreement",
		Args:  none,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return usagef("say what to do with the trial: hatchlore trial plan TAXON --eggs N")
		},
	}
	cmd.AddCommand(a.trialPlanCommand())
	return cmd
}

// planFlags are the flags of trial plan as given.
type planFlags struct {
	eggs, keepBack, dishes, eggsPerDish int
	chambers                            []string
	runs, look                          int
	start, triggerDay                   string
	factors                             []string
	settle                              []string
	base, rho, difference               float64
	seed                                uint64
}

func (a *app) trialPlanCommand() *cobra.Command {
	var f planFlags
	cmd := &cobra.Command{
		Use:   "plan TAXON --eggs N",
		Short: "treatments, dishes, dates and odds for the disagreements about a species",
		Long: `Lays out a trial for the disagreements that the library holds about TAXON: levels where the
sides stand and untreated eggs beside them, dishes drawn by lot under blind labels, a calendar,
and the chance that the counts settle each question. Only --eggs is needed; every other figure
has a default, which the plan states. The same library, flags and --seed give the same plan.`,
		Example: `  hatchlore trial plan "Lirrobranchus tessulatus" --eggs 240 --chambers 5,12 --start 2026-01-10
  hatchlore trial plan Lirrobranchus --eggs 200 --factor drying=0,14 --factor trigger=flooding,low-oxygen`,
		Args: some("a species or genus"),
	}
	flags := cmd.Flags()
	flags.IntVar(&f.eggs, "eggs", 0, "eggs on hand")
	flags.IntVar(&f.keepBack, "keep-back", 0, "eggs not to be used (default a tenth, at least 10)")
	flags.IntVar(&f.dishes, "dishes", 0, "most dishes to look after (default 48)")
	flags.IntVar(&f.eggsPerDish, "eggs-per-dish", 0, "eggs in a dish (default chosen between 5 and 50)")
	flags.StringSliceVar(&f.chambers, "chambers", nil, "temperature in °C that each chamber can hold: 5,12 or 4-20")
	flags.IntVar(&f.runs, "runs", 0, "chamber runs for each temperature (default 1)")
	flags.IntVar(&f.look, "look", 0, "days to look after the trigger (default 14)")
	flags.StringVar(&f.start, "start", "", "first day, as 2026-01-10 (default today)")
	flags.StringVar(&f.triggerDay, "trigger-day", "", "the day on which all dishes meet the trigger, instead of --start")
	flags.StringArrayVar(&f.factors, "factor", nil, "a factor with its levels, as drying=0,14; given once or more, it takes the place of the library's disagreements")
	flags.StringArrayVar(&f.settle, "settle", nil, "settle this disagreement only, by its number or id in 'hatchlore conflicts'")
	flags.Float64Var(&f.base, "base", 0, "fraction hatched without help (default 0.3)")
	flags.Float64Var(&f.rho, "rho", 0, "likeness of eggs in one dish, 0 to 1 (default 0.05)")
	flags.Float64Var(&f.difference, "difference", 0, "smallest difference of the hatched fraction worth finding (default 0.2)")
	flags.Uint64Var(&f.seed, "seed", 1, "for the draw of dishes and labels")
	cmd.MarkFlagsMutuallyExclusive("start", "trigger-day")
	format := formatFlag(cmd, formatTable, formatJSON, formatJSONL, formatCSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		req, err := f.request(cmd, strings.Join(args, " "))
		if err != nil {
			return err
		}
		return a.plan(cmd, req, f.settle, *format)
	}
	return cmd
}

// request turns the flags into what the planner takes. The questions come
// from the library later.
func (f *planFlags) request(cmd *cobra.Command, taxon string) (trial.Request, error) {
	req := trial.Request{
		Taxon: taxon, Eggs: f.eggs, Dishes: f.dishes, EggsPerDish: f.eggsPerDish, Runs: f.runs, LookDays: f.look,
		BaseFraction: f.base, Difference: f.difference, Seed: f.seed,
	}
	if !cmd.Flags().Changed("eggs") {
		return req, usagef("say how many eggs are on hand: --eggs 240")
	}
	for name, n := range map[string]int{"eggs": f.eggs, "dishes": f.dishes, "eggs-per-dish": f.eggsPerDish, "runs": f.runs, "look": f.look} {
		if cmd.Flags().Changed(name) && n < 1 {
			return req, usagef("--%s takes a number above 0, not %d", name, n)
		}
	}
	if cmd.Flags().Changed("keep-back") {
		if f.keepBack < 0 {
			return req, usagef("--keep-back takes 0 or more, not %d", f.keepBack)
		}
		req.KeepBack = &f.keepBack
	}
	if cmd.Flags().Changed("rho") {
		req.Rho = &f.rho
	}
	for name, v := range map[string]float64{"base": f.base, "rho": f.rho, "difference": f.difference} {
		if cmd.Flags().Changed(name) && !(v >= 0 && v < 1) {
			return req, usagef("--%s takes a fraction from 0 to below 1, not %v", name, v)
		}
	}
	var err error
	if req.Chambers, err = parseChambers(f.chambers); err != nil {
		return req, err
	}
	for _, s := range f.factors {
		factor, err := trial.ParseFactor(s)
		if err != nil {
			return req, usagef("--factor %s: %w", s, err)
		}
		req.Factors = append(req.Factors, factor)
	}
	return req, f.days(&req)
}

func (f *planFlags) days(req *trial.Request) (err error) {
	switch {
	case f.triggerDay != "":
		req.Trigger, err = trial.ParseDay(f.triggerDay)
	case f.start != "":
		req.Start, err = trial.ParseDay(f.start)
	default:
		req.Start = trial.DayOf(time.Now())
	}
	if err != nil {
		return &usageError{err}
	}
	return nil
}

// parseChambers reads temperatures that chambers can hold: 12 or 4-20 or
// name:4-20.
func parseChambers(list []string) ([]trial.Chamber, error) {
	var out []trial.Chamber
	for i, s := range list {
		c := trial.Chamber{Name: fmt.Sprintf("chamber %c", 'A'+i%26)}
		if i >= 26 {
			return nil, usagef("--chambers takes at most 26")
		}
		value := strings.TrimSpace(s)
		if name, v, ok := strings.Cut(value, ":"); ok && strings.TrimSpace(name) != "" {
			c.Name, value = strings.TrimSpace(name), v
		}
		var err error
		if c.Low, c.High, err = parseSpan(value); err != nil {
			return nil, usagef("--chambers takes °C such as 5,12 or 4-20, not %q", s)
		}
		out = append(out, c)
	}
	return out, nil
}

// parseSpan reads a number or two numbers with a hyphen; either may be below
// zero.
func parseSpan(s string) (low, high float64, err error) {
	s = strings.TrimSpace(s)
	if low, err = strconv.ParseFloat(s, 64); err == nil {
		return low, low, nil
	}
	i := strings.Index(s[min(1, len(s)):], "-") + 1
	if i < 1 {
		return 0, 0, err
	}
	if low, err = strconv.ParseFloat(strings.TrimSpace(s[:i]), 64); err != nil {
		return 0, 0, err
	}
	if high, err = strconv.ParseFloat(strings.TrimSpace(s[i+1:]), 64); err != nil {
		return 0, 0, err
	}
	if low > high {
		return 0, 0, strconv.ErrRange
	}
	return low, high, nil
}

// plan lays a trial out and prints it. Factors by hand need no library; else
// the questions are the library's disagreements.
func (a *app) plan(cmd *cobra.Command, req trial.Request, settle []string, format string) error {
	if len(req.Factors) == 0 || len(settle) > 0 {
		err := a.withLibrary(func(lib *library.Library) error {
			d, err := lib.Answers().Conflicts(cmd.Context(), req.Taxon)
			if err != nil {
				return err
			}
			req.Taxon = d.Taxon
			req.Questions, err = chosen(d, settle)
			return err
		})
		if err != nil {
			return err
		}
	}
	p, err := trial.New(req)
	if err != nil {
		return err
	}
	return emitPlan(cmd.OutOrStdout(), format, p)
}

func emitPlan(w io.Writer, format string, p *trial.Plan) error {
	switch format {
	case formatJSON:
		return emitJSON(w, p)
	case formatJSONL:
		return emitJSONL(w, []*trial.Plan{p})
	case formatCSV:
		return emitCSV(w, benchRows(p))
	}
	return printPlan(w, p)
}

// chosen returns the questions to settle: all, or those that the keeper named
// by number or id.
func chosen(d query.Disputes, settle []string) ([]trial.Question, error) {
	picked := d.Conflicts
	if len(settle) > 0 {
		picked = nil
		for _, s := range settle {
			i := slices.IndexFunc(d.Conflicts, func(c species.Conflict) bool { return c.ID == s })
			if n, err := strconv.Atoi(s); err == nil {
				i = n - 1
			}
			if i < 0 || i >= len(d.Conflicts) {
				return nil, usagef("--settle %s: 'hatchlore conflicts' lists the numbers and ids to choose from", s)
			}
			picked = append(picked, d.Conflicts[i])
		}
	}
	questions := query.Questions(picked)
	if len(questions) == 0 {
		return nil, fmt.Errorf("the library holds no disagreement about %s that a trial could settle; name factors with --factor drying=0,14", d.Taxon)
	}
	return questions, nil
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
