package counts

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"hatchlore/evidence/trial"
)

// Sheet is looks at dishes, of one sheet or of all so far, with the factor columns that a table of its
// own brings along.
type Sheet struct {
	Looks   []Look
	Names   []string   // of all columns that are no part of a look
	Factors [][]string // one row a look, as Names
}

var lookColumns = []string{"dish", "date", "eggs", "emerged", "hatched", "dead", "note"}

// benchColumns may stand in a sheet for the reader's sake; they are factors only
// where a term names them.
var benchColumns = []string{"label", "chamber", "run", "lot", "day"}

// Read reads a sheet of counts as CSV (RFC 4180, or as spreadsheets write it): a
// header with at least dish and hatched, then one row a look. Columns that are not of the sheet are
// factors. Rows without any count are passed over: nobody looked. All that is
// wrong is reported together in the order of the lines, the first few faults in words;
// the sheet then holds the lines that could be read, whose dishes may be wrong as well
// (see [Sheet.Unplanned], [Together]).
func Read(r io.Reader) (*Sheet, error) {
	in, err := csvOf(r)
	if err != nil {
		return nil, fmt.Errorf("reading counts: %w", err)
	}
	header, err := in.Read()
	if err == io.EOF {
		return nil, fmt.Errorf("the sheet of counts is empty: its first line names the columns, such as dish,date,eggs,emerged,hatched,dead")
	}
	if err != nil {
		line, said := unreadable(err)
		wrong := &faults{}
		wrong.add(line, "%w", said)
		return nil, wrong
	}
	c := &Sheet{}
	at, factors, err := c.columns(header)
	if err != nil {
		return nil, err
	}
	wrong := &faults{}
	c.rows(in, at, factors, wrong)
	if wrong.count == 0 && len(c.Looks) == 0 {
		return nil, fmt.Errorf("the sheet holds no counts yet: fill in the hatched column")
	}
	c.check(wrong)
	return c, wrong.err()
}

// rows reads what follows the header.
func (c *Sheet) rows(in *csv.Reader, at map[string]int, factors []int, wrong *faults) {
	for {
		row, err := in.Read()
		if err == io.EOF {
			return
		}
		if err != nil && !errors.Is(err, csv.ErrFieldCount) {
			line, said := unreadable(err)
			wrong.add(line, "%w", said)
			return
		}
		line, _ := in.FieldPos(0)
		if err != nil {
			wrong.add(line, "%d cells stand here, the first line names %d: put what has a comma in it between quotes", len(row), in.FieldsPerRecord)
			continue
		}
		look, err := entryOf(row, at).Look()
		if err != nil {
			wrong.add(line, "%w", err)
			continue
		}
		if look.Empty() {
			continue
		}
		look.Line = line
		c.Looks = append(c.Looks, look)
		var f []string
		for _, k := range factors {
			f = append(f, strings.TrimSpace(row[k]))
		}
		c.Factors = append(c.Factors, f)
	}
}

// unreadable says from which line on the sheet cannot be read, and why: what follows
// an open quotation mark is no row.
func unreadable(err error) (line int, said error) {
	if bad, ok := errors.AsType[*csv.ParseError](err); ok {
		return bad.StartLine, errors.New("a quotation mark opens or ends a cell, and is doubled within one: write \"dark, \"\"damp\"\"\"")
	}
	return 0, fmt.Errorf("reading counts: %w", err)
}

// columns finds the sheet's columns and takes the others as factors.
func (c *Sheet) columns(header []string) (at map[string]int, factors []int, err error) {
	at = map[string]int{}
	for k, h := range header {
		name := strings.ToLower(strings.TrimSpace(h))
		if _, twice := at[name]; twice || name == "" {
			return nil, nil, fmt.Errorf("column %d of the counts, %q, has no name of its own", k+1, h)
		}
		at[name] = k
		if !slices.Contains(lookColumns, name) {
			c.Names = append(c.Names, strings.TrimSpace(h))
			factors = append(factors, k)
		}
	}
	if _, ok := at["dish"]; !ok {
		if k, ok := at["label"]; ok {
			at["dish"] = k
		}
	}
	for _, need := range []string{"dish", "hatched"} {
		if _, ok := at[need]; !ok {
			return nil, nil, fmt.Errorf("the counts have no column %s: the first line names the columns, such as dish,date,eggs,emerged,hatched,dead", need)
		}
	}
	return at, factors, nil
}

// check notes counts that cannot be: more out of a dish than were set in it,
// two looks at a dish on one day, eggs that change.
func (c *Sheet) check(wrong *faults) {
	say := func(l Look, format string, args ...any) {
		wrong.add(l.Line, "dish %s: "+format, append([]any{l.Dish}, args...)...)
	}
	for _, dish := range c.byDish() {
		eggs, out := Unseen, 0
		for i, l := range dish {
			if i > 0 && l.Date == dish[i-1].Date {
				when := "without a date"
				if !l.Date.IsZero() {
					when = "on " + l.Date.String()
				}
				say(l, "a second look %s: give the lines different dates, or keep one", when)
			}
			if l.Eggs != Unseen {
				if eggs != Unseen && l.Eggs != eggs {
					say(l, "%d eggs here, %d on an earlier line", l.Eggs, eggs)
				}
				eggs = l.Eggs
			}
			out += max(0, l.Hatched) + max(0, l.Dead)
			if eggs != Unseen && out+max(0, l.Emerged) > eggs {
				say(l, "%d hatched, dead or emerged of %d eggs cannot be (hatched and dead are counted once, when they are taken out)", out+max(0, l.Emerged), eggs)
			}
		}
	}
}

// byDish groups the looks, dishes in the order of their first line, looks by
// date.
func (c *Sheet) byDish() [][]Look {
	var out [][]Look
	at := map[string]int{}
	for _, l := range c.Looks {
		k, ok := at[l.Dish]
		if !ok {
			k = len(out)
			at[l.Dish] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], l)
	}
	for _, looks := range out {
		slices.SortStableFunc(looks, func(a, b Look) int { return a.Date.Since(b.Date) })
	}
	return out
}

// Merge adds looks to those recorded before. A look at the same dish on the
// same day corrects the earlier one, which is kept in its Was. Columns other than
// those of a look are kept where both sheets have the same ones. It refuses what
// [Read] refuses, taken together.
func (c *Sheet) Merge(more *Sheet) (*Sheet, error) {
	out := &Sheet{Looks: slices.Clone(c.Looks)}
	same := slices.Equal(c.Names, more.Names)
	if same {
		out.Names, out.Factors = c.Names, slices.Clone(c.Factors)
	} else {
		out.Factors = make([][]string, len(c.Looks))
	}
	taken := map[occasion]int{}
	for i, l := range slices.Backward(out.Looks) {
		taken[occasion{l.Dish, l.Date}] = i
	}
	for i, l := range more.Looks {
		k, known := taken[occasion{l.Dish, l.Date}]
		if !known {
			taken[occasion{l.Dish, l.Date}] = len(out.Looks)
			var row []string
			if same && i < len(more.Factors) {
				row = more.Factors[i]
			}
			out.Looks, out.Factors = append(out.Looks, l), append(out.Factors, row)
			continue
		}
		old := out.Looks[k]
		if old.same(l) {
			continue
		}
		was := append(slices.Clone(old.Was), old)
		was[len(was)-1].Was = nil
		l.Was = was
		out.Looks[k] = l
	}
	wrong := &faults{}
	out.check(wrong)
	return out, wrong.err()
}

// occasion is a dish on a day: one look at most is kept of it.
type occasion struct {
	dish string
	date trial.Day
}
