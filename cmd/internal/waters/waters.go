// Package waters has the commands that work out waters: blends, other units, a
// meter's error, oxygen, a dose of carbon dioxide. They need no library.
//
// It refuses figures that cannot be, and prints an estimate as one, with its
// caution.
package waters

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/quantity"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/water"
)

// Command is the command that works out waters, with those below it.
func Command() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "water",
		Short: "blend waters, convert their figures, check a meter, oxygen by temperature and height, a carbon dioxide dose",
		Args:  usage.None,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return usage.Errorf("say what to work out: hatchlore water blend, convert, meter, oxygen or dose")
		},
	}
	cmd.AddCommand(blendCommand(), convertCommand(), meterCommand(), oxygenCommand(), doseCommand())
	return cmd
}

// waterLine is one figure that was worked out. Low and High are equal where
// it is one number.
type waterLine struct {
	What string  `json:"what"`
	Low  float64 `json:"low"`
	High float64 `json:"high"`
	Unit string  `json:"unit"`
	Note string  `json:"note"`

	typed string // the figure of which this is another form; "" for an estimate
}

func single(what string, v float64, unit, note string) waterLine {
	return waterLine{What: what, Low: v, High: v, Unit: unit, Note: note}
}

func spread(what string, r water.Range, unit, note string) waterLine {
	return waterLine{What: what, Low: r.Low, High: r.High, Unit: unit, Note: note}
}

// as marks the line as another form of what was typed: it keeps its digits.
func (l waterLine) as(typed string) waterLine {
	l.typed = typed
	return l
}

func printWater(w io.Writer, lines []waterLine) error {
	g := &terminal.Grid{}
	for _, l := range lines {
		digits := max(usualDigits, digitsOf(l.typed))
		value := rounded(l.Low, digits)
		if l.High != l.Low {
			value += " to " + rounded(l.High, digits)
		}
		g.Add(l.What, strings.TrimSpace(value+" "+l.Unit), l.Note)
	}
	return g.Print(w, 0, terminal.Width(w))
}

// usualDigits are as many as a keeper can measure.
const usualDigits = 3

// round3 prints a figure to the usual digits.
func round3(v float64) string { return rounded(v, usualDigits) }

// echo prints a figure as it was given, but for what a change of unit leaves behind.
func echo(v float64) string { return rounded(v, 9) }

// rounded prints a figure to so many digits, all those before the point, and never
// by powers of ten.
func rounded(v float64, digits int) string {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return fmt.Sprint(v)
	}
	scale := math.Pow(10, float64(digits-1)-math.Floor(math.Log10(math.Abs(v))))
	if scale < 1 {
		scale = 1
	}
	return strconv.FormatFloat(math.Round(v*scale)/scale, 'f', -1, 64)
}

// digitsOf counts the digits of the longest number in s from the first that is not 0.
func digitsOf(s string) (most int) {
	for number := range strings.FieldsFuncSeq(s, func(r rune) bool { return !strings.ContainsRune("0123456789.", r) }) {
		most = max(most, len(strings.TrimLeft(strings.ReplaceAll(number, ".", ""), "0")))
	}
	return most
}

// figureOf reads a number with its unit, such as "1.2 mS/cm"; a number alone
// has the unit given.
func figureOf(s string, alone quantity.Unit) (float64, quantity.Unit, error) {
	s = strings.TrimSpace(s)
	if v, err := strconv.ParseFloat(s, 64); err == nil && alone != "" {
		return v, alone, nil
	}
	if number, letter, ok := strings.Cut(s, " "); ok && (letter == "C" || letter == "F") {
		s = number + " °" + letter // plain on a command line, no unit in a paper's text
	}
	for _, q := range quantity.Find(s) {
		if len(q.Items) == 1 && q.Items[0].Low != nil && q.Items[0].High != nil && *q.Items[0].Low == *q.Items[0].High && !q.Implied {
			return *q.Items[0].Low, q.Unit, nil
		}
	}
	return 0, "", usage.Errorf("%q is no number with a unit, such as \"1.2 mS/cm\"", s)
}

// mostConductivity is more than brine has, in µS/cm.
const mostConductivity = 1e6

// conductivityOf reads a conductivity in µS/cm.
func conductivityOf(s string) (float64, error) {
	v, unit, err := figureOf(s, quantity.MicroS)
	if err != nil {
		return 0, err
	}
	if v, err = quantity.Convert(v, unit, quantity.MicroS); err != nil || !(v >= 0 && v <= mostConductivity) {
		return 0, usage.Errorf("%q is no conductivity, such as 600 or \"1.2 mS/cm\"", s)
	}
	return v, nil
}

// hardnessOf reads a hardness or a range of it with its unit, as 12dH or 8-14dH,
// in mg/L as CaCO3.
func hardnessOf(s string) (water.Range, error) {
	at := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("0123456789.- ", r) })
	if at < 1 {
		return water.Range{}, usage.Errorf("%q is no hardness, such as 12dH or 8-14dH; units: %s", s, strings.Join(water.HardnessUnits(), ", "))
	}
	low, high, err := trial.ParseSpan(s[:at])
	if err != nil {
		return water.Range{}, usage.Errorf("%q is no hardness, such as 12dH or 8-14dH", s)
	}
	unit := strings.TrimSpace(s[at:])
	var r water.Range
	if r.Low, err = water.Hardness(low, unit, "mg/L"); err == nil {
		r.High, err = water.Hardness(high, unit, "mg/L")
	}
	if err != nil {
		return water.Range{}, usage.Blame(err)
	}
	return r, nil
}
