package bench

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"unicode"
	"unicode/utf8"

	"hatchlore/evidence/trial"
)

//go:embed sheet.html
var sheetText string

// Paper is a size of paper to print on.
type Paper string

const (
	A4     Paper = "A4"
	Letter Paper = "letter"
)

// PaperNamed returns the size that a keeper calls a4 or letter.
func PaperNamed(name string) (p Paper, known bool) {
	switch name {
	case "a4":
		return A4, true
	case "letter":
		return Letter, true
	}
	return "", false
}

// WriteSheets writes the bench sheets as one HTML page to print: what to do day
// by day, where each dish stands, a count sheet for each look with blind labels
// in dish order and empty boxes, and labels to cut. Nothing on count sheets and
// labels tells a treatment.
func WriteSheets(w io.Writer, p *trial.Plan, paper Paper) error {
	if paper != A4 && paper != Letter {
		return fmt.Errorf("%q is no paper: choose A4 or letter", paper)
	}
	page, err := template.New("sheets").Funcs(template.FuncMap{"day": dayWords, "halves": halves, "capitalised": capitalised}).Parse(sheetText)
	if err != nil {
		return fmt.Errorf("bench sheets: %w", err)
	}
	data := struct {
		Plan            *trial.Plan
		Paper           template.CSS
		Lots            bool
		Handling, Looks []Task
	}{Plan: p, Paper: template.CSS(paper), Lots: slices.ContainsFunc(p.Dishes, func(d trial.Dish) bool { return d.Block() != "" })}
	for _, t := range Agenda(p) {
		if t.Act == trial.ActLook {
			data.Looks = append(data.Looks, t)
		} else {
			data.Handling = append(data.Handling, t)
		}
	}
	if err := page.Execute(w, data); err != nil {
		return fmt.Errorf("bench sheets of %s: %w", p.Trial, err)
	}
	return nil
}

// dayWords writes a day with its weekday, by which people plan.
func dayWords(d trial.Day) string { return d.Weekday().String()[:3] + " " + d.String() }

// capitalised makes a step a sentence.
func capitalised(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// rowsAPage is how many rows stand under each other before a list is printed
// as two columns, so that one look is one sheet of paper.
const rowsAPage = 30

// halves splits a long list of dishes or labels into two columns of equal
// height, page by page.
func halves(list any) ([]any, error) {
	switch l := list.(type) {
	case []string:
		return columns(l), nil
	case []trial.Dish:
		return columns(l), nil
	}
	return nil, fmt.Errorf("%T is no list to print", list)
}

func columns[T any](list []T) []any {
	if len(list) <= rowsAPage {
		return []any{list}
	}
	half := (len(list) + 1) / 2
	return []any{list[:half], list[half:]}
}
