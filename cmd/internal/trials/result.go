package trials

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/stream"
	"hatchlore/cmd/internal/trialprint"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/stat"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/outcome"
)

func resultCommand(at *library.Place) *cobra.Command {
	var file, plot string
	var terms []string
	model := usage.Choice{Value: outcome.QuasiBinomial, Allowed: []string{outcome.QuasiBinomial, outcome.BetaBinomial, outcome.BiasReduced, outcome.MixedLogistic, outcome.Binomial}}
	correction := usage.Choice{Value: string(stat.Holm), Allowed: []string{string(stat.Holm), string(stat.BenjaminiHochberg), string(stat.Bonferroni)}}
	counted := usage.Choice{Value: "hatched", Allowed: []string{"hatched", "emerged"}}
	cmd := &cobra.Command{
		Use:   "result [ID]",
		Short: "what the counts of a trial say: fractions, effects, a verdict on each side",
		Long: `Weighs the counts of a trial: the hatched fraction of each treatment with its 95 % Wilson
interval, a logistic model in which dishes differ, and for each side of each disagreement whether
it is supported, contradicted or undecided.

With --counts it weighs a file instead: by the plan ID where one is named, else as a table of its
own with columns dish, eggs, hatched and any factor columns. A factor's first level in sorted
order (numbers by size) is what the others are compared with; 'trend(x)' asks for a straight line.
No library is needed for that.`,
		Example: `  hatchlore trial result lirrobranchus --plot result.svg
  hatchlore trial result --counts dishes.csv --terms "drying,light,drying:light" --format json`,
	}
	cmd.Args = func(cmd *cobra.Command, args []string) error {
		switch {
		case plot != "" && plot != "-" && !strings.EqualFold(filepath.Ext(plot), ".svg"):
			return usage.Errorf("--plot writes an .svg file, not %s", filepath.Base(plot))
		case len(args) == 0 && file == "":
			return usage.Errorf("name a trial of 'hatchlore trial list', or a file with --counts FILE.csv")
		}
		return usage.OneAtMost("the trial's id in 'hatchlore trial list'")(cmd, args)
	}
	flags := cmd.Flags()
	flags.StringVar(&file, "counts", "", "file of counts to weigh, not to record; - is standard input")
	flags.StringSliceVar(&terms, "terms", nil, `terms of the model, as "drying,light,drying:light" (default each factor by itself)`)
	flags.Var(&model, "model", "how dishes differ: "+strings.Join(model.Allowed, ", "))
	flags.Var(&correction, "correction", "for the number of tests: "+strings.Join(correction.Allowed, ", "))
	flags.Var(&counted, "outcome", "what is weighed: hatched, or emerged with the hatched included")
	flags.StringVar(&plot, "plot", "", "write a picture of the fractions with their intervals to this .svg file")
	format := usage.FormatFlag(cmd, listing.Table, listing.JSON, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		opt := outcome.WeighOptions{Terms: terms, Model: model.Value, Correction: stat.Correction(correction.Value), Outcome: counted.Value}
		p, r, err := weigh(cmd, at, strings.Join(args, ""), file, opt)
		if err != nil {
			return err
		}
		if plot != "" {
			if err := stream.Write(cmd.OutOrStdout(), plot, r.WritePlot); err != nil {
				return err
			}
		}
		return emitResult(cmd.OutOrStdout(), *format, p, r, opt.Correction)
	}
	return cmd
}

// weigh weighs what a trial of the library has counted, or a file of counts by
// itself or by a plan. The plan is nil for a table of its own.
func weigh(cmd *cobra.Command, at *library.Place, id, file string, opt outcome.WeighOptions) (*trial.Plan, *outcome.Result, error) {
	var p *trial.Plan
	var c *counts.Sheet
	var err error
	if id != "" {
		if p, c, err = planOf(cmd, at, id); err != nil {
			return nil, nil, err
		}
	}
	if file != "" {
		err := stream.Read(cmd.InOrStdin(), file, func(r io.Reader) (err error) {
			if c, err = counts.Read(r); err == nil && p != nil {
				c, err = counts.Take(p, nil, c)
			}
			return err
		})
		if err != nil {
			return nil, nil, err
		}
	}
	var r *outcome.Result
	switch {
	case c == nil:
		return nil, nil, fmt.Errorf("trial %s has no counts yet: 'hatchlore trial record %s FILE.csv' takes them", p.Trial, p.Trial)
	case p == nil:
		r, err = outcome.WeighTable(c, opt)
	default:
		r, err = outcome.Weigh(p, c, opt)
	}
	if err != nil && file != "" {
		err = fmt.Errorf("%s: %w", file, err)
	}
	return p, r, err
}

func emitResult(w io.Writer, format string, p *trial.Plan, r *outcome.Result, correction stat.Correction) error {
	switch format {
	case listing.JSON:
		return listing.WriteJSON(w, r)
	case listing.JSONL:
		return listing.WriteJSONL(w, []*outcome.Result{r})
	case listing.CSV:
		return listing.WriteCSV(w, r.Treatments)
	}
	return trialprint.Result(w, p, r, correction)
}
