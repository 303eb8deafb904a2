package usage

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hatchlore/evidence"
)

// Choice is a flag that takes one of a few words.
type Choice struct {
	Value   string
	Allowed []string
}

func (c *Choice) String() string { return c.Value }

// Type is how help shows what the flag takes.
func (c *Choice) Type() string { return strings.Join(c.Allowed, "|") }

// Set takes one of the words.
func (c *Choice) Set(s string) error {
	for _, a := range c.Allowed {
		if s == a {
			c.Value = s
			return nil
		}
	}
	return fmt.Errorf("takes %s", strings.Join(c.Allowed, ", "))
}

// FormatFlag adds --format to cmd and returns where its value will stand.
func FormatFlag(cmd *cobra.Command, allowed ...string) *string {
	f := Choice{Value: allowed[0], Allowed: allowed}
	cmd.Flags().Var(&f, "format", "print as "+strings.Join(allowed, ", "))
	return &f.Value
}

// GivesAny reports whether a flag is given beside the others named.
func GivesAny(cmd *cobra.Command, others ...string) bool {
	n := cmd.Flags().NFlag()
	for _, other := range others {
		if cmd.Flags().Changed(other) {
			n--
		}
	}
	return n > 0
}

// FactorIDs are the factors as the command line names them.
func FactorIDs() []string {
	var out []string
	for _, m := range evidence.Measures() {
		out = append(out, string(m.Factor))
	}
	return out
}

// FlagError puts into words what cobra found wrong with a flag of cmd.
func FlagError(cmd *cobra.Command, err error) error {
	return Errorf("%w; see 'hatchlore %s--help'", noNumber(err), NameOf(cmd))
}

// noNumber puts into words that a flag got no number.
func noNumber(err error) error {
	var bad *pflag.InvalidValueError
	var number *strconv.NumError
	if !errors.As(err, &bad) || !errors.As(err, &number) {
		return err
	}
	what := "a whole number"
	switch kind := bad.GetFlag().Value.Type(); {
	case strings.HasPrefix(kind, "float"):
		what = "a number, with a point as in 0.3"
	case strings.HasSuffix(kind, "Slice"):
		what = "whole numbers with commas between"
	case kind == "bool":
		what = "true or false"
	}
	return fmt.Errorf("--%s takes %s, not %q", bad.GetFlag().Name, what, bad.GetValue())
}
