package waters

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/water"
)

func oxygenCommand() *cobra.Command {
	var at, altitude, salinity float64
	cmd := &cobra.Command{
		Use:   "oxygen [MG/L] --temperature T",
		Short: "oxygen that water holds by temperature and height above the sea; mg/L as per cent of it",
		Example: `  hatchlore water oxygen --temperature 8 --altitude 1400
  hatchlore water oxygen 2.5 --temperature 8`,
		Args: usage.OneAtMost("the oxygen measured, in mg/L"),
	}
	cmd.Flags().Float64Var(&at, "temperature", 0, "°C of the water")
	cmd.Flags().Float64Var(&altitude, "altitude", 0, "metres above the sea")
	cmd.Flags().Float64Var(&salinity, "salinity", 0, "practical salinity, about g/L of salts")
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if !cmd.Flags().Changed("temperature") {
			return usage.Errorf("say how warm the water is: --temperature 8")
		}
		lines, err := oxygenLines(strings.Join(args, ""), at, altitude, salinity)
		if err != nil {
			return usage.Blame(err)
		}
		return listing.Emit(cmd.OutOrStdout(), *format, lines, printWater)
	}
	return cmd
}

func oxygenLines(given string, at, altitude, salinity float64) ([]waterLine, error) {
	p, err := water.PressureAt(altitude)
	if err != nil {
		return nil, err
	}
	full, err := water.OxygenSaturation(at, salinity, p)
	if err != nil {
		return nil, err
	}
	out := []waterLine{
		single("saturation", full, "mg/L", fmt.Sprintf("at %v °C and %s atm, the mean pressure at %v m; weather moves it by a few per cent", at, round3(p), altitude)),
	}
	if given != "" {
		v, err := strconv.ParseFloat(given, 64)
		if err != nil || !(v >= 0 && v < 100) {
			return nil, usage.Errorf("%q is no oxygen in mg/L", given)
		}
		return append(out, single("given", v, "mg/L", ""), single("", 100*v/full, "% saturation", "")), nil
	}
	return append(out, single("half of it", full/2, "mg/L", ""), single("a tenth", full/10, "mg/L", "")), nil
}

func doseCommand() *cobra.Command {
	var target, litres, at float64
	cmd := &cobra.Command{
		Use:   "dose --target MG/L --litres L --temperature T",
		Short: "carbon dioxide for a trigger, as an estimate with its caution",
		Long: `Estimates the carbon dioxide that brings fresh water to a target. How much of a gas led into an
open dish dissolves is a guess (a tenth to a half), and what the water's alkalinity makes of it is
left out: watch the pH and the animals, not the figure.`,
		Example: `  hatchlore water dose --target 150 --litres 0.5 --temperature 8`,
		Args:    usage.None,
	}
	cmd.Flags().Float64Var(&target, "target", 0, "dissolved carbon dioxide wanted, mg/L")
	cmd.Flags().Float64Var(&litres, "litres", 1, "water")
	cmd.Flags().Float64Var(&at, "temperature", 0, "°C of the water")
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		for _, need := range []string{"target", "temperature"} {
			if !cmd.Flags().Changed(need) {
				return usage.Errorf("say the --%s; see 'hatchlore water dose --help'", need)
			}
		}
		d, err := water.CO2Dose(target, litres, at)
		if err != nil {
			return usage.Blame(err)
		}
		return listing.Emit(cmd.OutOrStdout(), *format, doseLines(d), printDose)
	}
	return cmd
}

func doseLines(d water.Dose) []waterLine {
	return []waterLine{
		single("at least", 1000*d.Least, "mg", "if all of it dissolves and none was there"),
		single("as gas", 1000*d.GasLitre, "mL", "the same at 1 atm"),
		spread("to have at hand", water.Range{Low: 1000 * d.Likely.Low, High: 1000 * d.Likely.High}, "mg", "an estimate: open dishes and bubbles lose most of it"),
		single("the water holds at most", d.Most, "mg/L", "under pure gas at 1 atm"),
		single("at balance with", 100*d.Pressure, "% of gas in the air above", ""),
	}
}

func printDose(w io.Writer, lines []waterLine) error {
	if err := printWater(w, lines); err != nil {
		return err
	}
	fmt.Fprintln(w)
	return terminal.Paragraph(w, gasCaution, 0, terminal.Width(w))
}

// gasCaution stands under every dose.
const gasCaution = "Carbon dioxide and dry ice suffocate in closed rooms and burst closed vessels: work in moving air, never seal a vial. " +
	"Start with a part of the dose and with few eggs."
