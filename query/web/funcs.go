package web

import (
	"fmt"
	"html/template"
	"strings"
	"unicode"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/outcome"
	"hatchlore/query"
	"hatchlore/query/web/countform"
	"hatchlore/species"
)

// funcs are what templates may call.
var funcs = template.FuncMap{
	"count":        count,
	"species":      speciesAddress,
	"disagreement": disagreementAddress,
	"letter":       sideLetter,
	"bare":         bare,
	"claim":        claimAddress,
	"paper":        paperAddress,
	"page":         pageAddress,
	"value":        species.Value,
	"authors":      authors,
	"how":          howRead,
	"weight":       query.Weight,
	"kind":         func(k species.Kind) string { return query.KindWords[k] },
	"reason":       func(k species.ReasonKind) string { return query.ReasonWords[k] },
	"citations":    func(s species.Side) string { return strings.Join(query.Citations(s), ", ") },
	"capitalised":  func(s string) string { return unitsKept(capitalised(s)) },
	"sentence":     sentence,
	"pass":         pass,
	"trial":        trialAddress,
	"lot":          lotAddress,
	"plural":       trial.Plural,
	"share":        share,
	"label":        func(f string) string { return evidence.Factor(f).Label() },
	"mesh":         func(um *float64) string { return quantity.Format(*um, "um") },
	"figure":       figure,
	"design":       query.DesignWords,
	"written":      countform.Written,
}

// count prints a number of things.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

func capitalised(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// unitsKept keeps a number and its unit on one line.
func unitsKept(s string) string {
	words := strings.Split(s, " ")
	var b strings.Builder
	for i, w := range words {
		switch before := words[max(0, i-1)]; {
		case i == 0:
		case before != "" && unicode.IsDigit(rune(before[len(before)-1])) && isUnit(w):
			b.WriteString("\u00a0")
		default:
			b.WriteString(" ")
		}
		b.WriteString(w)
	}
	return b.String()
}

func isUnit(word string) bool {
	switch strings.TrimRight(word, "?.,;:)") {
	case "%", "°C", "°F", "d", "h", "min", "m", "mg/L", "g/L", "µS/cm", "mS/cm":
		return true
	}
	return false
}

// authors prints who wrote a paper, the first few of many.
func authors(all []string) string {
	const most = 4
	if len(all) > most {
		return strings.Join(all[:most-1], "; ") + " and others"
	}
	return strings.Join(all, "; ")
}

// howRead says in few words how a paper's pages were read.
func howRead(p store.Listing) string {
	if p.State == store.NoFile {
		return "known by citation, no file"
	}
	var parts []string
	for _, x := range []struct {
		n    int
		what string
	}{{p.How.Text, "read as text"}, {p.How.OCR, "read from pictures"}, {p.How.Unread, "not read"}} {
		switch {
		case x.n == p.Pages && x.n > 0:
			return x.what
		case x.n > 0:
			parts = append(parts, fmt.Sprintf("%d %s", x.n, x.what))
		}
	}
	return strings.Join(parts, ", ")
}

// sentence writes a message, which begins small and ends open, as a sentence.
func sentence(s string) string {
	s = capitalised(s)
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".?!") {
		return s
	}
	return s + "."
}

// pass makes a map of names and values, for a shared part that takes several.
func pass(pairs ...any) (map[string]any, error) {
	out := map[string]any{}
	for i := 0; i+1 < len(pairs); i += 2 {
		name, ok := pairs[i].(string)
		if !ok {
			return nil, fmt.Errorf("pass: %v is no name", pairs[i])
		}
		out[name] = pairs[i+1]
	}
	return out, nil
}

// share prints a part of a whole in per cent.
func share(part float64) string { return fmt.Sprintf("%.0f %%", 100*part) }

// figure prints a number that may be missing.
func figure(format string, f outcome.Figure) string {
	if !f.Known() {
		return "–"
	}
	return fmt.Sprintf(format, float64(f))
}
