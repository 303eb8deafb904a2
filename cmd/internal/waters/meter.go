package waters

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/water"
)

func meterCommand() *cobra.Command {
	var standard string
	var at float64
	var corrects bool
	var known []string
	for _, s := range water.Standards() {
		known = append(known, s.Name)
	}
	cmd := &cobra.Command{
		Use:   "meter READING --standard NAME --temperature T",
		Short: "what a reading of a bottle standard says of a conductivity meter",
		Long: `Compares what a meter reads in a solution of known conductivity with what it should read there,
and says by what to multiply its readings. A meter that corrects to 25 °C by itself is checked
with --corrects. Standards: ` + strings.Join(known, ", ") + ` µS/cm at 25 °C.`,
		Example: `  hatchlore water meter "1210 uS/cm" --standard 1413 --temperature 20
  hatchlore water meter "1.38 mS/cm" --standard 1413 --corrects`,
		Args: usage.One("the reading, such as \"1210 uS/cm\""),
	}
	cmd.Flags().StringVar(&standard, "standard", "", "name of the standard, its µS/cm at 25 °C")
	cmd.Flags().Float64Var(&at, "temperature", 0, "°C of the standard")
	cmd.Flags().BoolVar(&corrects, "corrects", false, "the meter corrects to 25 °C by itself")
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if standard == "" || !corrects && !cmd.Flags().Changed("temperature") {
			return usage.Errorf("say the --standard and its --temperature, or --corrects for a meter that corrects; see 'hatchlore water meter --help'")
		}
		lines, err := meterLines(args[0], standard, at, corrects)
		if err != nil {
			return err
		}
		return listing.Emit(cmd.OutOrStdout(), *format, lines, printWater)
	}
	return cmd
}

// muchOff is the error from which a meter is mended rather than reckoned with
// (common practice, no source).
const muchOff = 0.1

func meterLines(reading, name string, at float64, corrects bool) ([]waterLine, error) {
	s, err := water.StandardNamed(name)
	if err != nil {
		return nil, usage.Blame(err)
	}
	reads, err := conductivityOf(reading)
	if err != nil {
		return nil, err
	}
	c, err := water.CheckMeter(s, reads, at, corrects)
	if err != nil {
		return nil, usage.Blame(err)
	}
	advice := ""
	if math.Abs(c.Error) > muchOff {
		advice = "more than a tenth off: clean the cell, take a fresh bottle, set the meter anew"
	}
	direction := "too high"
	if c.Error < 0 {
		direction = "too low"
	}
	return []waterLine{
		single("should read", c.Should, "µS/cm", s.What),
		single("reads", reads, "µS/cm", fmt.Sprintf("%.1f %% %s", 100*math.Abs(c.Error), direction)),
		single("multiply its readings by", c.Factor, "", advice),
	}, nil
}
