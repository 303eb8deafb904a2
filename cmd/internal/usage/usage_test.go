package usage

import (
	"errors"
	"testing"

	"github.com/spf13/cobra"
)

// parse runs a command with the given arguments and returns what it said.
func parse(t *testing.T, args ...string) string {
	t.Helper()
	var number int
	var whole []int
	var share float64
	var text, may, other string
	var several []string
	var sure bool
	word := Choice{Value: "a", Allowed: []string{"a", "b"}}
	root := &cobra.Command{Use: "hatchlore", SilenceErrors: true, SilenceUsage: true, PersistentPreRunE: NoneEmpty}
	root.SetFlagErrorFunc(FlagError)
	cmd := &cobra.Command{Use: "weigh", Args: OneAtMost("the dish"), RunE: func(*cobra.Command, []string) error { return nil }}
	root.AddCommand(cmd)
	flags := cmd.Flags()
	flags.IntVar(&number, "number", 0, "")
	flags.IntSliceVar(&whole, "whole", nil, "")
	flags.Float64Var(&share, "share", 0, "")
	flags.StringVar(&text, "text", "", "")
	flags.StringVar(&may, "may", "", "")
	flags.StringVar(&other, "other", "", "")
	flags.StringArrayVar(&several, "several", nil, "")
	flags.BoolVar(&sure, "sure", false, "")
	flags.Var(&word, "word", "")
	MayBeEmpty(cmd, "may")
	Either(cmd, "text", "other")
	Either(cmd, "text", "number")
	root.SetArgs(append([]string{"weigh"}, args...))
	err := root.Execute()
	if err == nil {
		return ""
	}
	var wrong *Error
	if !errors.As(err, &wrong) {
		t.Errorf("%q: %v is not told as a mistake of the command line", args, err)
	}
	return err.Error()
}

func TestMistakes(t *testing.T) {
	const help = "; see 'hatchlore weigh --help'"
	for _, c := range []struct {
		args []string
		want string
	}{
		{nil, ""},
		{[]string{"dish"}, ""},
		{[]string{"a", "b"}, `name the dish alone, not "b" too; quote what has blanks`},
		{[]string{" "}, "name the dish" + help},
		{[]string{"--colour"}, "there is no flag --colour" + help},
		{[]string{"-x"}, "there is no flag -x" + help},
		{[]string{"--=3"}, `"--=3" is no flag` + help},
		{[]string{"--text"}, "--text wants a value behind it" + help},
		{[]string{"--number", "x"}, `--number takes a whole number, not "x"` + help},
		{[]string{"--number", "99999999999999999999"}, `--number takes a whole number, not "99999999999999999999"` + help},
		{[]string{"--whole", "1,x"}, `--whole takes whole numbers with commas between, not "1,x"` + help},
		{[]string{"--share", "0,3"}, `--share takes a number, with a point as in 0.3, not "0,3"` + help},
		{[]string{"--sure=perhaps"}, `--sure takes true or false, not "perhaps"` + help},
		{[]string{"--word", "c"}, `--word takes a, b, not "c"` + help},
		{[]string{"--word", "b"}, ""},
		{[]string{"--text", " "}, "--text is given without a value: write one behind it or leave it out"},
		{[]string{"--several", "x", "--several", ""}, "--several is given without a value: write one behind it or leave it out"},
		{[]string{"--may", ""}, ""},
		{[]string{"--text", "x", "--other", "y"}, "--text and --other do not go together: give one of them"},
		{[]string{"--text", "x", "--number", "1"}, "--text and --number do not go together: give one of them"},
		{[]string{"--other", "y", "--number", "1"}, ""},
	} {
		if got := parse(t, c.args...); got != c.want {
			t.Errorf("%q:\n got %s\nwant %s", c.args, got, c.want)
		}
	}
}

func TestTaxon(t *testing.T) {
	for name, want := range map[string]string{" Lirrobranchus  tessulatus ": "Lirrobranchus tessulatus", "Éa b": "Éa b", "lirro": "", "L. tessulatus": "", " ": ""} {
		got, err := Taxon("taxon", name)
		if got != want || (err == nil) != (want != "") {
			t.Errorf("%q: %q, %v", name, got, err)
		}
	}
}
