package usage

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
)

// FactorIDs are the factors as the command line names them.
func FactorIDs() []string {
	var out []string
	for _, m := range evidence.Measures() {
		out = append(out, string(m.Factor))
	}
	return out
}

// Factor reads the id of a factor that a flag gives.
func Factor(flag, id string) (evidence.Factor, error) {
	f := evidence.Factor(strings.TrimSpace(id))
	if _, ok := evidence.MeasureOf(f); !ok {
		return "", Errorf("--%s takes %s, not %q", flag, strings.Join(FactorIDs(), ", "), id)
	}
	return f, nil
}

// Day reads a day that a flag gives.
func Day(flag, s string) (trial.Day, error) {
	d, err := trial.ParseDay(s)
	if err != nil {
		return d, Errorf("--%s: %w", flag, err)
	}
	return d, nil
}

// Taxon reads a species or genus that a flag gives for what is to be kept:
// written out, for an abbreviation could be read as another.
func Taxon(flag, name string) (string, error) {
	name = strings.Join(strings.Fields(name), " ")
	genus, _, _ := strings.Cut(name, " ")
	if first, _ := utf8.DecodeRuneInString(genus); !unicode.IsUpper(first) || strings.HasSuffix(genus, ".") {
		return "", Errorf("--%s takes a species or genus written out, as \"Lirrobranchus tessulatus\", not %q", flag, name)
	}
	return name, nil
}
