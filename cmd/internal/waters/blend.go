package waters

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/water"
)

func blendCommand() *cobra.Command {
	var target string
	var litres float64
	var hard []string
	cmd := &cobra.Command{
		Use:   "blend NAME=CONDUCTIVITY NAME=CONDUCTIVITY… --target CONDUCTIVITY",
		Short: "parts of two or more waters for a target conductivity",
		Long: `Works out the parts of two or more waters, each with its conductivity at 25 °C in µS/cm (or with
a unit, as "1.2 mS/cm"), that make a target. Of the many answers with three or more waters it
gives the one whose parts are most alike. It holds for dilute waters: measure what you mixed.`,
		Example: `  hatchlore water blend tap=600 rain=5 --target 50 --litres 10
  hatchlore water blend tap=600 rain=5 pond=180 --target 120 --hardness tap=12-14dH --hardness rain=0dH`,
		Args: usage.Some("the waters, as tap=600 rain=5"),
	}
	cmd.Flags().StringVar(&target, "target", "", "conductivity wanted at 25 °C, µS/cm")
	cmd.Flags().Float64Var(&litres, "litres", 1, "how much to make")
	cmd.Flags().StringArrayVar(&hard, "hardness", nil, "hardness of a water, as tap=12dH or tap=8-14dH; units: "+strings.Join(water.HardnessUnits(), ", "))
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		sources, err := sourcesOf(args, hard)
		if err != nil {
			return err
		}
		switch {
		case target == "":
			return usage.Errorf("say what the blend should have: --target 50")
		case !(litres > 0 && litres < 1e9):
			return usage.Errorf("--litres takes a number above 0, not %v", litres)
		}
		if _, err := water.Reach(sources); err != nil {
			return usage.Blame(err)
		}
		want, err := conductivityOf(target)
		if err != nil {
			return err
		}
		b, err := water.Mix(sources, want)
		if err != nil {
			return err
		}
		return listing.Emit(cmd.OutOrStdout(), *format, blendLines(sources, b, litres), func(w io.Writer, lines []waterLine) error {
			return printBlend(w, sources, lines)
		})
	}
	return cmd
}

// sourcesOf reads waters and their hardness.
func sourcesOf(args, hard []string) ([]water.Source, error) {
	var out []water.Source
	for _, s := range args {
		name, value, ok := strings.Cut(s, "=")
		if name = strings.TrimSpace(name); !ok || name == "" || slices.ContainsFunc(out, func(o water.Source) bool { return o.Name == name }) {
			return nil, usage.Errorf("a water is NAME=CONDUCTIVITY with a name of its own, such as tap=600, not %q", s)
		}
		k, err := conductivityOf(value)
		if err != nil {
			return nil, err
		}
		out = append(out, water.Source{Name: name, Conductivity: k})
	}
	for _, s := range hard {
		name, value, _ := strings.Cut(s, "=")
		i := slices.IndexFunc(out, func(o water.Source) bool { return o.Name == strings.TrimSpace(name) })
		if i < 0 {
			return nil, usage.Errorf("--hardness %s: there is no water %q", s, name)
		}
		r, err := hardnessOf(value)
		if err != nil {
			return nil, err
		}
		out[i].Hardness = &r
	}
	return out, nil
}

func blendLines(sources []water.Source, b water.Blend, litres float64) []waterLine {
	var out []waterLine
	for i, s := range sources {
		v, unit := b.Parts[i]*litres, "L"
		if litres <= 1 {
			v, unit = 1000*v, "mL"
		}
		out = append(out, single(s.Name, v, unit, fmt.Sprintf("%s %% of %s µS/cm", round3(100*b.Parts[i]), echo(s.Conductivity))))
	}
	out = append(out,
		single("conductivity at 25 °C", b.Conductivity, "µS/cm", fmt.Sprintf("these waters reach %s to %s", echo(b.Reach.Low), echo(b.Reach.High))),
		spread("dissolved solids", b.Solids, "mg/L", solidsNote))
	if b.Hardness != nil {
		out = append(out, spread("hardness as CaCO3", *b.Hardness, "mg/L", ""))
	}
	return out
}

const solidsNote = "0.55 to 0.75 mg/L for each µS/cm in most natural waters; sulfate waters up to 0.96"

func printBlend(w io.Writer, sources []water.Source, lines []waterLine) error {
	if err := printWater(w, lines); err != nil {
		return err
	}
	note := "Mass balance of dilute waters: measure the blend, then correct it."
	if water.Strong(sources) {
		note += " One of these is salty: diluted tenfold, strong salt water reads about a tenth more than reckoned here."
	}
	if missing := unmeasured(sources); len(missing) > 0 {
		note += " The hardness of the blend wants that of every water: give --hardness for " + strings.Join(missing, " and ") + " too."
	}
	fmt.Fprintln(w)
	return terminal.Paragraph(w, note, 0, terminal.Width(w))
}

// unmeasured names the waters of unknown hardness, where that of others is given.
func unmeasured(sources []water.Source) []string {
	var out []string
	for _, s := range sources {
		if s.Hardness == nil {
			out = append(out, s.Name)
		}
	}
	if len(out) == len(sources) {
		return nil
	}
	return out
}
