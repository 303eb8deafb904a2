// Package wording puts what queries answer, and what trials plan, in words, alike
// for the page and the terminal.
//
// It refuses to ask the library anything, and to lay out lines and columns.
package wording

import (
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/pool"
	"hatchlore/species/table"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// Kinds says in a few words how the sides of a disagreement stand.
var Kinds = map[conflict.Kind]string{
	conflict.Need:    "needed or not",
	conflict.Opposed: "hatched here, failed there",
	conflict.Apart:   "values that do not meet",
	conflict.Silent:  "nobody tells at first hand",
}

// Reasons names what could explain a disagreement away.
var Reasons = map[conflict.ReasonKind]string{
	conflict.UnitSlip:   "unit",
	conflict.StageMixed: "stage",
	conflict.EchoOnly:   "echo",
	conflict.Twice:      "published twice",
	conflict.Population: "population",
	conflict.Conditions: "other conditions",
}

// FiguresNote ends every table: a figure is not an instruction.
const FiguresNote = "Figures from papers are not instructions: start small and keep part of every lot back."

// ClaimValue shows a claim's value in canonical units, with its printed form
// where that differs.
func ClaimValue(c evidence.Claim) string {
	shown := value.Of(c)
	if c.Printed != "" && c.Printed != shown && c.Printed != value.Print(c.Low, c.High, c.Unit, "") {
		shown += " (" + c.Printed + ")"
	}
	return shown
}

// RowNotes are the marks of a row and whatever else sets it apart in the table
// of taxon: another species of the genus, an emergence count, the paper that it
// cites.
func RowNotes(r table.Row, taxon string) string {
	var notes []string
	if r.Name != taxon {
		notes = append(notes, shortened(r.Name, taxon))
	}
	if r.Borrowed {
		notes = append(notes, "borrowed")
	}
	if r.Stage == evidence.StageEmergence {
		notes = append(notes, "emergence")
	}
	if r.SameAs != "" {
		notes = append(notes, "same experiment as "+r.SameAs)
	}
	for _, m := range r.Marks {
		switch {
		case m != "second-hand":
		case r.After != "":
			m += ", after " + r.After
		case r.Cited != "":
			m += ", " + witness.Cited(r.Claim)
		}
		notes = append(notes, m)
	}
	return strings.Join(notes, "; ")
}

// shortened writes a species of the genus asked for as papers do: "L. tessulatus".
func shortened(name, taxon string) string {
	genus, rest, isSpecies := strings.Cut(name, " ")
	asked, _, _ := strings.Cut(taxon, " ")
	if !isSpecies || genus != asked {
		return name
	}
	return genus[:1] + ". " + rest
}

// Weight says how many papers stand on a side by their own findings, and which
// stand on another as well.
func Weight(s conflict.Side) string {
	var w string
	switch s.Firsthand {
	case 0:
		w = "no paper by its own findings"
	case 1:
		w = "1 paper by own findings"
	default:
		w = fmt.Sprintf("%d papers by own findings", s.Firsthand)
	}
	var torn []string
	for _, say := range s.Says {
		if slices.Contains(s.Torn, say.Paper) && !slices.Contains(torn, say.Citation) {
			torn = append(torn, say.Citation)
		}
	}
	switch {
	case len(torn) > 0 && s.Firsthand == 0:
		return "found both ways: " + strings.Join(torn, ", ")
	case len(torn) > 0:
		w += "; found both ways: " + strings.Join(torn, ", ")
	}
	return w
}

// Citations are the papers of a side, each once.
func Citations(s conflict.Side) []string {
	var out []string
	for _, say := range s.Says {
		if !slices.Contains(out, say.Citation) {
			out = append(out, say.Citation)
		}
	}
	return out
}

// PooledLines tells the hatched fractions that papers give together on a taxon.
func PooledLines(pooled []pool.Pooled, taxon string) []string {
	var out []string
	for _, p := range pooled {
		var of []string
		if p.Taxon != taxon {
			of = append(of, p.Taxon)
		}
		switch p.Stage {
		case evidence.StageEmergence:
			of = append(of, "emergence")
		case evidence.StageUnsaid:
			of = append(of, "stage not told")
		}
		line := p.String()
		if len(of) > 0 {
			line = strings.Join(of, ", ") + ": " + line
		}
		out = append(out, line)
	}
	return out
}
