package counts

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence/trial"
)

// Dish is one dish with all its looks summed.
type Dish struct {
	Name          string
	Levels        []trial.Setting // as the counts' or the plan's factors
	Control       bool
	Eggs, Hatched int
	Emerged, Dead int
	Looks         []Look
	Trigger       trial.Day // zero: unknown
	Planned       int       // index into the plan's dishes, -1
}

// Dishes sums the looks of each dish of the plan. All counts that the plan
// cannot have are refused together.
func Dishes(p *trial.Plan, c *Sheet) ([]Dish, error) {
	wrong := &faults{}
	var out []Dish
	planned := rosterOf(p)
	counted := map[int]bool{}
	for _, looks := range c.byDish() {
		d, err := countedDish(p, planned.find(looks[0].Dish), looks)
		if err == nil && counted[d.Planned] {
			err = fmt.Errorf("dish %s is counted under its label and its number: use one of them", d.Name)
		}
		if err != nil {
			wrong.add(lastLine(looks), "%w", err)
			continue
		}
		counted[d.Planned] = true
		out = append(out, d)
	}
	return out, wrong.err()
}

// countedDish sums the looks at dish i of the plan; -1 is none of it.
func countedDish(p *trial.Plan, i int, looks []Look) (Dish, error) {
	d := sumLooks(looks)
	if i < 0 {
		return d, noDish(d.Name)
	}
	d.Planned, d.Control, d.Trigger = i, p.Dishes[i].Control, p.Dishes[i].Trigger()
	if d.Eggs < 1 {
		d.Eggs = p.Dishes[i].Eggs
	}
	switch {
	case d.Eggs > p.Dishes[i].Eggs:
		return d, fmt.Errorf("dish %s: %d eggs in it cannot be, %d were planned: look at the label", d.Name, d.Eggs, p.Dishes[i].Eggs)
	case d.Hatched+d.Dead > d.Eggs:
		return d, fmt.Errorf("dish %s: %d hatched and %d dead of %d eggs cannot be: look at the label and at the looks before", d.Name, d.Hatched, d.Dead, d.Eggs)
	case d.Emerged > d.Eggs:
		return d, fmt.Errorf("dish %s: %d emerged or hatched of %d eggs cannot be: look at the label and at the looks before", d.Name, d.Emerged, d.Eggs)
	}
	for _, f := range p.Factors {
		d.Levels = append(d.Levels, p.Dishes[i].Levels[f.ID])
	}
	return d, nil
}

// Dishes sums the looks of each dish of a table of its own, with the levels in
// the given columns.
func (c *Sheet) Dishes(at []int) ([]Dish, error) {
	factors := map[string][]string{}
	for i, l := range c.Looks {
		row := []string{}
		for _, k := range at {
			if word := c.Factors[i][k]; word != "" {
				row = append(row, word)
				continue
			}
			return nil, fmt.Errorf("line %d: dish %s has no level of %s", l.Line, l.Dish, c.Names[k])
		}
		if old, ok := factors[l.Dish]; ok && !slices.Equal(old, row) {
			return nil, fmt.Errorf("line %d: dish %s has other levels than on its first line", l.Line, l.Dish)
		}
		factors[l.Dish] = row
	}
	var out []Dish
	for _, looks := range c.byDish() {
		d := sumLooks(looks)
		for _, word := range factors[d.Name] {
			d.Levels = append(d.Levels, settingOfWord(word))
		}
		if d.Eggs < 1 {
			return nil, fmt.Errorf("dish %s: the number of eggs set is missing: fill in the eggs column", d.Name)
		}
		out = append(out, d)
	}
	return out, nil
}

func sumLooks(looks []Look) Dish {
	d := Dish{Name: looks[0].Dish, Looks: looks, Planned: -1}
	for _, l := range looks {
		d.Eggs = max(d.Eggs, l.Eggs)
		d.Hatched += max(0, l.Hatched)
		d.Dead += max(0, l.Dead)
		d.Emerged = max(d.Emerged, d.Hatched+max(0, l.Emerged))
	}
	return d
}

func settingOfWord(word string) trial.Setting {
	var s trial.Setting
	if json.Unmarshal([]byte(word), &s.Number) == nil {
		return s
	}
	return trial.Cat(word)
}

// FactorColumns returns the columns that are factors: all but those that stand
// in a sheet for the reader's sake, unless they are asked for by name.
func (c *Sheet) FactorColumns(asked []string) []int {
	var out []int
	for k, n := range c.Names {
		if slices.Contains(asked, n) || !slices.Contains(benchColumns, strings.ToLower(n)) {
			out = append(out, k)
		}
	}
	return out
}
