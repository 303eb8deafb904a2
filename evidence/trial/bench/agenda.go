package bench

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"hatchlore/evidence/trial"
)

// Task is one thing to do on one day with some dishes.
type Task struct {
	Date   trial.Day `json:"date"`
	Act    string    `json:"act"`
	Do     string    `json:"do"`
	Dishes []int     `json:"dishes"`
	Labels []string  `json:"labels"`
}

// Agenda gathers the steps of all dishes by day: the same thing to do with
// several dishes is one task.
func Agenda(p *trial.Plan) []Task {
	var out []Task
	at := map[string]int{}
	for _, d := range p.Dishes {
		for _, s := range d.Steps {
			key := s.Date.String() + "\x00" + s.Act + "\x00" + s.Do
			i, ok := at[key]
			if !ok {
				i = len(out)
				at[key] = i
				out = append(out, Task{Date: s.Date, Act: s.Act, Do: s.Do})
			}
			out[i].Dishes = append(out[i].Dishes, d.Dish)
			out[i].Labels = append(out[i].Labels, d.Label)
		}
	}
	slices.SortStableFunc(out, func(a, b Task) int {
		return cmp.Or(a.Date.Since(b.Date), slices.Index(actOrder, a.Act)-slices.Index(actOrder, b.Act), strings.Compare(a.Do, b.Do))
	})
	return out
}

// HandlingOn returns what is to be done with dishes on a day, looks left out:
// those are due until they are recorded, see counts.DueOn.
func HandlingOn(p *trial.Plan, day trial.Day) []Task {
	return slices.DeleteFunc(Agenda(p), func(t Task) bool { return t.Date != day || t.Act == trial.ActLook })
}

var actOrder = []string{trial.ActLook, trial.ActSetOut, trial.ActStore, trial.ActDry, trial.ActFreeze, trial.ActChill, trial.ActMove, trial.ActTrigger}

// WriteCalendar writes the plan's agenda as an iCalendar file (RFC 5545): one
// all-day event a task. The stamp is the moment of writing; the same plan and
// stamp give the same bytes, and a task keeps its UID so that a calendar
// program replaces rather than repeats it.
func WriteCalendar(w io.Writer, p *trial.Plan, stamp time.Time) error {
	cal := ics.NewCalendar()
	cal.SetProductId("-//hatchlore//trial calendar//EN")
	cal.SetXWRCalName(p.Trial)
	for i, t := range Agenda(p) {
		e := cal.AddEvent(fmt.Sprintf("%s-%d@hatchlore.invalid", uidWord(p.Trial), i+1))
		e.SetDtStampTime(stamp)
		e.SetAllDayStartAt(t.Date.Time())
		e.SetAllDayEndAt(t.Date.Add(1).Time())
		e.SetSummary(fmt.Sprintf("%s (%s)", t.Do, trial.Plural(len(t.Dishes), "dish")))
		e.SetDescription(fmt.Sprintf("Trial %s, %s. Dishes: %s", p.Trial, p.Taxon, strings.Join(t.Labels, " ")))
	}
	var b strings.Builder
	if err := cal.SerializeTo(&b, ics.WithNewLineWindows); err != nil {
		return fmt.Errorf("writing the calendar of %s: %w", p.Trial, err)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// uidWord keeps the signs that are plain in every calendar program.
func uidWord(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' {
			return r
		}
		return '-'
	}, s)
}

// WriteCountSheet writes the CSV (RFC 4180) to fill in at the bench: one line
// for each dish and look, with blind labels and empty counts.
func WriteCountSheet(w io.Writer, p *trial.Plan) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	rows := [][]string{{"dish", "date", "eggs", "emerged", "hatched", "dead", "note"}}
	for _, t := range Agenda(p) {
		if t.Act != trial.ActLook {
			continue
		}
		for i, n := range t.Dishes {
			rows = append(rows, []string{t.Labels[i], t.Date.String(), fmt.Sprint(p.Dishes[n-1].Eggs), "", "", "", ""})
		}
	}
	if err := out.WriteAll(rows); err != nil {
		return fmt.Errorf("writing the count sheet of %s: %w", p.Trial, err)
	}
	return nil
}
