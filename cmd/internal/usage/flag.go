package usage

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
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

// Either lets cmd take one of the flags named, not several.
func Either(cmd *cobra.Command, names ...string) {
	before := cmd.PreRunE
	cmd.PreRunE = func(cmd *cobra.Command, args []string) error {
		if before != nil {
			if err := before(cmd, args); err != nil {
				return err
			}
		}
		var given []string
		for _, name := range names {
			if cmd.Flags().Changed(name) {
				given = append(given, "--"+name)
			}
		}
		if len(given) > 1 {
			return Errorf("%s do not go together: give one of them", strings.Join(given, " and "))
		}
		return nil
	}
}

// emptyable marks flags that may be given as "".
const emptyable = "hatchlore_may_be_empty"

// MayBeEmpty lets the flags named be given as "", to take out what they say.
func MayBeEmpty(cmd *cobra.Command, names ...string) {
	for _, name := range names {
		// The only error is a flag that does not exist.
		_ = cmd.Flags().SetAnnotation(name, emptyable, nil)
	}
}

// NoneEmpty refuses flags that are given as "": a script's variable that was
// not set should not pass for a flag left out.
func NoneEmpty(cmd *cobra.Command, _ []string) error {
	var empty string
	cmd.Flags().Visit(func(f *pflag.Flag) {
		if _, may := f.Annotations[emptyable]; !may && isEmpty(f.Value) {
			empty = f.Name
		}
	})
	if empty != "" {
		return Errorf("--%s is given without a value: write one behind it or leave it out", empty)
	}
	return nil
}

func isEmpty(v pflag.Value) bool {
	blank := func(s string) bool { return strings.TrimSpace(s) == "" }
	if list, ok := v.(pflag.SliceValue); ok {
		all := list.GetSlice()
		return len(all) == 0 || slices.ContainsFunc(all, blank)
	}
	return v.Type() == "string" && blank(v.String())
}
