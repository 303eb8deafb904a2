package table

import (
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/ingest"
	"hatchlore/species/name"
)

// observation is one outcome counted in the table.
type observation struct {
	row, col int
	low      float64
	high     float64
	stage    evidence.Stage
	names    []name.Name
	group    string
}

// observe reads every cell of the columns of outcomes.
func (d *drafting) observe() {
	for i, row := range d.t.rows {
		for k, c := range row.cells {
			if k >= len(d.t.columns) || d.t.columns[k].kind != outcomeColumn {
				continue
			}
			col := &d.t.columns[k]
			low, high, ok := d.t.counted(c)
			if !ok {
				continue
			}
			o := observation{row: i, col: k, low: low, high: high, stage: col.stage, group: col.group + "|" + row.origin}
			if o.names = col.names; len(o.names) == 0 {
				o.names = row.names
			}
			if len(o.names) == 0 {
				o.names = d.names
			}
			d.seen = append(d.seen, o)
		}
	}
}

// counted returns how many a cell says hatched.
func (t *Table) counted(cell span) (low, high float64, ok bool) {
	text := strings.TrimSpace(t.page.Text[cell.start:cell.end])
	if text == "" || isDash(text) || t.page.Marked(ingest.Untrusted, cell.start, cell.end) {
		return 0, 0, false
	}
	text = strings.TrimSuffix(plain(text), "%")
	if whole := strings.IndexByte(text, '/'); whole > 0 {
		text = text[:whole] // 12/40: twelve hatched of forty
	}
	for _, q := range quantity.Find(text + " %") {
		list := ofQuantity(evidence.HatchingFraction, &q)
		if q.Start != 0 || len(list) != 1 {
			continue
		}
		if list[0].high == nil {
			return 0, 0, false
		}
		low, high = *list[0].high, *list[0].high
		if list[0].low != nil {
			low = *list[0].low
		}
		return low, high, low >= 0
	}
	return 0, 0, false
}

// outcome says what observations came to. Where hatching was counted, splitting
// shells do not matter.
func outcome(seen []observation) (evidence.Bearing, evidence.Stage) {
	if len(seen) == 0 {
		return evidence.Reported, ""
	}
	hatching := slices.ContainsFunc(seen, func(o observation) bool { return o.stage == evidence.StageHatching })
	stage := seen[0].stage
	if hatching {
		stage = evidence.StageHatching
	}
	for _, o := range seen {
		if o.high > 0 && (!hatching || o.stage == evidence.StageHatching) {
			return evidence.Favours, stage
		}
	}
	return evidence.Prevents, stage
}

// party is the observations that belong together: of the same animals and of
// eggs of the same origin.
type party struct {
	names []name.Name
	seen  []observation
}

// parties sorts observations by names and origin.
func parties(seen []observation) (out []party) {
	at := map[string]int{}
	for _, o := range seen {
		key := o.group
		for _, n := range o.names {
			key += "|" + n.Full()
		}
		k, ok := at[key]
		if !ok {
			k = len(out)
			at[key] = k
			out = append(out, party{names: o.names})
		}
		out[k].seen = append(out[k].seen, o)
	}
	return out
}

func (d *drafting) where(keep func(o observation) bool) (out []observation) {
	for _, o := range d.seen {
		if keep(o) {
			out = append(out, o)
		}
	}
	return out
}
