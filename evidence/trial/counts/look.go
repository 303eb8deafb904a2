package counts

import (
	"fmt"
	"strconv"
	"strings"

	"hatchlore/evidence/trial"
)

// Look is what one look at one dish found. Hatched and Dead are those taken out
// since the look before; Emerged is how many stood emerged, still inside their
// membrane, at this look. A number not written down is Unseen.
type Look struct {
	Line    int       `json:"-"`    // in the file it came from
	Dish    string    `json:"dish"` // label or number
	Date    trial.Day `json:"date"`
	Eggs    int       `json:"eggs"` // set in the dish; Unseen where the plan knows
	Emerged int       `json:"emerged"`
	Hatched int       `json:"hatched"`
	Dead    int       `json:"dead"`
	Note    string    `json:"note,omitempty"`
	Was     []Look    `json:"was,omitempty"` // what this look said before it was corrected, oldest first
}

// Unseen stands for a number that was not written down.
const Unseen = -1

// Entry is one look as it is written: a row of a sheet, or the fields of a form.
// An empty number is one that nobody counted.
type Entry struct {
	Dish, Date, Eggs, Emerged, Hatched, Dead, Note string
}

func entryOf(row []string, at map[string]int) Entry {
	cell := func(name string) string {
		if k, ok := at[name]; ok {
			return row[k]
		}
		return ""
	}
	return Entry{cell("dish"), cell("date"), cell("eggs"), cell("emerged"), cell("hatched"), cell("dead"), cell("note")}
}

// Look reads the entry. What it holds is not yet compared with a plan: [Take]
// does that.
func (e Entry) Look() (Look, error) {
	l := Look{Dish: strings.TrimSpace(e.Dish), Note: strings.TrimSpace(e.Note)}
	for _, field := range []struct {
		name, text string
		to         *int
	}{{"eggs", e.Eggs, &l.Eggs}, {"emerged", e.Emerged, &l.Emerged}, {"hatched", e.Hatched, &l.Hatched}, {"dead", e.Dead, &l.Dead}} {
		n, err := readCount(strings.TrimSpace(field.text))
		if err != nil {
			return l, fmt.Errorf("%s: %w", field.name, err)
		}
		*field.to = n
	}
	if l.Dish == "" {
		return l, fmt.Errorf("the dish has no label")
	}
	if d := strings.TrimSpace(e.Date); d != "" {
		day, err := trial.ParseDay(d)
		if err != nil {
			return l, err
		}
		l.Date = day
	}
	return l, nil
}

// Empty reports whether nothing was counted at the look.
func (l Look) Empty() bool { return l.Emerged == Unseen && l.Hatched == Unseen && l.Dead == Unseen }

func readCount(s string) (int, error) {
	if s == "" {
		return Unseen, nil
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 0 || n > trial.MostCounted {
		return 0, fmt.Errorf("%q is no count: write a whole number, or nothing where nobody looked", s)
	}
	return n, nil
}

// same reports whether two looks at one dish on one day say the same.
func (l Look) same(m Look) bool {
	return l.Eggs == m.Eggs && l.Emerged == m.Emerged && l.Hatched == m.Hatched && l.Dead == m.Dead && l.Note == m.Note
}
