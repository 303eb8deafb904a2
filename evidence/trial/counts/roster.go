package counts

import (
	"fmt"
	"strconv"
	"strings"

	"hatchlore/evidence/trial"
)

// roster finds the dishes of a plan by what sheets call them, as [trial.Plan.Find]
// does, without going through the plan for every look.
type roster map[string]int

func rosterOf(p *trial.Plan) roster {
	r := roster{}
	for i, d := range p.Dishes {
		for _, name := range []string{anyCase(d.Label), strconv.Itoa(d.Dish)} {
			if _, ok := r[name]; !ok {
				r[name] = i
			}
		}
	}
	return r
}

// find returns the index of the dish that a sheet calls by the name, -1 for none.
func (r roster) find(name string) int {
	if i, ok := r[anyCase(name)]; ok {
		return i
	}
	return -1
}

func anyCase(label string) string { return strings.ToLower(strings.ToUpper(label)) }

// noDish says that a plan has no dish of the name.
func noDish(name string) error {
	hint := ""
	if !trial.ValidLabel(strings.ToUpper(name)) {
		hint = " (a sign of the label is misread)"
	}
	return fmt.Errorf("the plan has no dish %q%s", name, hint)
}
