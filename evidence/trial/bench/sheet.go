package bench

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"

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

// WriteSheets writes the bench sheets as one HTML page to print: what to do day
// by day, where each dish stands, a count sheet for each look with blind labels
// in dish order and empty boxes, and labels to cut.
func WriteSheets(w io.Writer, p *trial.Plan, paper Paper) error {
	if paper != A4 && paper != Letter {
		return fmt.Errorf("%q is no paper: choose A4 or letter", paper)
	}
	page, err := template.New("sheets").Parse(sheetText)
	if err != nil {
		return fmt.Errorf("bench sheets: %w", err)
	}
	data := struct {
		Plan            *trial.Plan
		Paper           template.CSS
		Handling, Looks []Task
	}{Plan: p, Paper: template.CSS(paper)}
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
