package waters

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/quantity"
	"hatchlore/evidence/water"
)

func convertCommand() *cobra.Command {
	var at, coefficient float64
	cmd := &cobra.Command{
		Use:   "convert VALUE UNIT",
		Short: "a figure of water in other units; conductivity at 25 °C from a cold reading",
		Long: `Gives a conductivity, salinity, dissolved solids, hardness or temperature in the other units of its
kind, and what it can stand for: solids from conductivity are a range, never one number. With
--temperature a conductivity that was read without correction is brought to 25 °C, with the error
that the usual rule is known to make in the cold. Hardness units: dH, fH, eH, gpg, mmol/L.`,
		Example: `  hatchlore water convert 480 uS/cm --temperature 6
  hatchlore water convert 12 dH
  hatchlore water convert 60 F`,
		Args: usage.Some("a number with its unit, as 1.2 mS/cm"),
	}
	cmd.Flags().Float64Var(&at, "temperature", 25, "°C of the water when it was read, by a meter that does not correct")
	cmd.Flags().Float64Var(&coefficient, "coefficient", 100*water.Coefficient, "rise of conductivity, % per °C of its value at 25 °C")
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		lines, err := converted(strings.Join(args, " "), at, coefficient/100, cmd.Flags().Changed("temperature"))
		if err != nil {
			return err
		}
		return listing.Emit(cmd.OutOrStdout(), *format, lines, printWater)
	}
	return cmd
}

// converted works out what a figure is in other words.
func converted(s string, at, coefficient float64, cold bool) ([]waterLine, error) {
	if i := strings.LastIndexByte(s, ' '); i > 0 && s[i+1:] != "mg/L" && slices.ContainsFunc(water.HardnessUnits(), func(u string) bool {
		return strings.EqualFold(u, strings.TrimPrefix(s[i+1:], "°"))
	}) {
		return hardnessLines(s)
	}
	v, unit, err := figureOf(s, "")
	if err != nil {
		return nil, err
	}
	for _, kind := range []struct {
		base  quantity.Unit
		lines func(float64) ([]waterLine, error)
	}{
		{quantity.MicroS, func(k float64) ([]waterLine, error) { return conductivityLines(s, k, at, coefficient, cold) }},
		{quantity.DegC, func(c float64) ([]waterLine, error) { return temperatureLines(s, c) }},
		{quantity.GramL, func(g float64) ([]waterLine, error) { return saltLines(s, g, at) }},
	} {
		if base, err := quantity.Convert(v, unit, kind.base); err == nil {
			lines, err := kind.lines(base)
			return lines, usage.Blame(err)
		}
	}
	return nil, usage.Errorf("%q is no figure of water: give a conductivity, a salinity, solids, a hardness or a temperature", s)
}

func hardnessLines(s string) ([]waterLine, error) {
	r, err := hardnessOf(s)
	if err != nil {
		return nil, err
	}
	var out []waterLine
	for _, u := range water.HardnessUnits() {
		low, err := water.Hardness(r.Low, "mg/L", u)
		if err != nil {
			return nil, err
		}
		high, err := water.Hardness(r.High, "mg/L", u)
		if err != nil {
			return nil, err
		}
		out = append(out, spread("hardness", water.Range{Low: low, High: high}, hardnessSigns[u], hardnessNotes[u]).as(s))
	}
	return out, nil
}

var (
	hardnessSigns = map[string]string{"mg/L": "mg/L", "dH": "°dH", "fH": "°fH", "eH": "°eH", "gpg": "gpg", "mmol/L": "mmol/L"}
	hardnessNotes = map[string]string{
		"mg/L": "as CaCO3, also printed ppm", "dH": "German degrees", "fH": "French degrees", "eH": "English degrees (Clark)",
		"gpg": "grains per US gallon", "mmol/L": "calcium and magnesium together",
	}
)

// conductivityLines takes k as read, and brings it to 25 °C where a temperature
// is given.
func conductivityLines(typed string, k, at, coefficient float64, cold bool) ([]waterLine, error) {
	k25, err := water.At25(k, at, coefficient)
	if err != nil {
		return nil, err
	}
	var out []waterLine
	exact := typed
	if cold {
		exact = "" // what is corrected is no longer what was read
		out = append(out, single("as read", k, "µS/cm", fmt.Sprintf("at %v °C, not corrected", at)).as(typed),
			single("at 25 °C", k25, "µS/cm", fmt.Sprintf("%s %% per °C; %s", round3(100*coefficient), errorWords(at, k25, coefficient))))
	} else {
		out = append(out, single("conductivity", k25, "µS/cm", "taken as corrected to 25 °C; --temperature corrects a reading").as(exact))
	}
	out = append(out, single("", k25/1000, "mS/cm", "the same as dS/m").as(exact), single("", k25/10, "mS/m", "").as(exact),
		spread("dissolved solids", water.Solids(k25), "mg/L", solidsNote))
	if s, err := water.PracticalSalinity(k25/1000, 25); err == nil {
		out = append(out, single("practical salinity", s, "", "if the salts were those of the sea (PSS-78; below 2 its extension)"))
	}
	return out, nil
}

// errorWords says what the usual rule is known to do in the cold.
func errorWords(at, k25, coefficient float64) string {
	share, ok := water.CorrectionError(at)
	switch {
	case coefficient != water.Coefficient:
		return "the error in the cold is known for 1.91 % per °C only"
	case !ok:
		return "its error at this temperature is not known"
	case share < 0.002 && share > -0.002:
		return "for a potassium chloride standard right to 0.2 %"
	}
	return fmt.Sprintf("%.1f %% too high for a potassium chloride standard: rather about %s µS/cm", 100*share, round3(k25/(1+share)))
}

func temperatureLines(typed string, c float64) ([]waterLine, error) {
	f, err := quantity.Convert(c, quantity.DegC, quantity.DegF)
	if err != nil {
		return nil, err
	}
	k, err := quantity.Convert(c, quantity.DegC, quantity.Kelvin)
	if err != nil {
		return nil, err
	}
	return []waterLine{single("temperature", c, "°C", "").as(typed), single("", f, "°F", "").as(typed), single("", k, "K", "").as(typed)}, nil
}

// saltLines tells what grams of salt in a litre can stand for.
func saltLines(typed string, g, at float64) ([]waterLine, error) {
	if !(g >= 0) {
		return nil, usage.Errorf("%v g/L cannot be", g)
	}
	rho, err := water.Density(at)
	if err != nil {
		return nil, err
	}
	return []waterLine{
		single("salts", g, "g/L", "also printed ppt, ‰ or psu, which differ from g/L by less than the figure is good for").as(typed),
		single("", 1000*g, "mg/L", "also printed ppm").as(typed),
		single("", g/rho*1000, "g/kg", fmt.Sprintf("dilute, at %v °C", at)),
		spread("conductivity at 25 °C", water.FromSolids(1000*g), "µS/cm", "if these are dissolved solids of a natural water: "+solidsNote),
	}, nil
}
