package usage

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// FlagError puts into words what is wrong with a flag of cmd.
func FlagError(cmd *cobra.Command, err error) error {
	return Errorf("%w; see 'hatchlore %s--help'", FlagWords(err), NameOf(cmd))
}

// FlagWords puts into words what is wrong with a flag.
func FlagWords(err error) error {
	var unknown *pflag.NotExistError
	var bare *pflag.ValueRequiredError
	var bad *pflag.InvalidValueError
	var syntax *pflag.InvalidSyntaxError
	switch {
	case errors.As(err, &unknown) && unknown.GetSpecifiedShortnames() != "":
		return fmt.Errorf("there is no flag -%s", unknown.GetSpecifiedShortnames())
	case errors.As(err, &unknown):
		return fmt.Errorf("there is no flag --%s", unknown.GetSpecifiedName())
	case errors.As(err, &bare):
		return fmt.Errorf("--%s wants a value behind it", bare.GetFlag().Name)
	case errors.As(err, &bad):
		return fmt.Errorf("--%s takes %s, not %q", bad.GetFlag().Name, wanted(bad.GetFlag().Value), bad.GetValue())
	case errors.As(err, &syntax):
		return fmt.Errorf("%q is no flag", syntax.GetSpecifiedFlag())
	}
	return err
}

// wanted says what values a flag takes.
func wanted(v pflag.Value) string {
	if c, ok := v.(*Choice); ok {
		return strings.Join(c.Allowed, ", ")
	}
	switch kind := v.Type(); {
	case strings.HasPrefix(kind, "float"):
		return "a number, with a point as in 0.3"
	case kind == "intSlice":
		return "whole numbers with commas between"
	case kind == "stringSlice":
		return "words with commas between"
	case kind == "bool":
		return "true or false"
	}
	return "a whole number"
}
