package web

import (
	"fmt"
	"html/template"
	"strings"

	"hatchlore/query"
	"hatchlore/species"
)

// funcs are what templates may call.
var funcs = template.FuncMap{
	"count":       count,
	"species":     speciesAddress,
	"dispute":     disputeAddress,
	"letter":      sideLetter,
	"weight":      query.Weight,
	"kind":        func(k species.Kind) string { return query.KindWords[k] },
	"reason":      func(k species.ReasonKind) string { return query.ReasonWords[k] },
	"citations":   func(s species.Side) string { return strings.Join(query.Citations(s), ", ") },
	"fahrenheit":  func() string { return "degF" },
	"capitalised": capitalised,
	"pass":        pass,
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
