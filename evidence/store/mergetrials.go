package store

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"hatchlore/evidence/trial"
)

// takeLots takes the lots of a parcel with their entries. A lot is the same
// where its name and the time at which it was added are; another of that name
// is kept under the name with a letter behind it.
func (m *merger) takeLots(p Parcel) error {
	for _, in := range p.Lots {
		if strings.TrimSpace(in.Name) == "" || in.Added.IsZero() {
			return fmt.Errorf("a lot of the parcel has no name, or was never added")
		}
		id, name, err := m.lot(in)
		if err != nil {
			return fmt.Errorf("lot %s: %w", in.Name, err)
		}
		m.lots[in.Name] = name
		m.lotIDs[in.Name] = id
	}
	return nil
}

func (m *merger) lot(in ParcelLot) (id int64, name string, err error) {
	err = m.tx.QueryRowContext(m.ctx, `SELECT id, name FROM lots WHERE added = ?1 AND (name = ?2 OR substr(name, 1, length(?2) + 1) = ?2 || '-') ORDER BY name LIMIT 1`,
		in.Added.UnixMilli(), in.Name).Scan(&id, &name)
	if !errors.Is(err, sql.ErrNoRows) {
		return id, name, err
	}
	name, err = m.free(`SELECT EXISTS (SELECT 1 FROM lots WHERE name = ?)`, in.Name)
	if err != nil {
		return 0, "", err
	}
	res, err := m.tx.ExecContext(m.ctx, `INSERT INTO lots (taxon, region, site, collector, permit, collected, sediment, sieve, note, name, added)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`, append(lotValues(in.Lot), name, in.Added.UnixMilli())...)
	if err != nil {
		return 0, "", err
	}
	m.Lots++
	id, err = res.LastInsertId()
	return id, name, err
}

// free returns base, or base with the first of -a, -b … behind it that taken
// does not find.
func (m *merger) free(taken, base string) (string, error) {
	try := base
	for n := 1; ; n++ {
		var there bool
		if err := m.tx.QueryRowContext(m.ctx, taken, try).Scan(&there); err != nil || !there {
			return try, err
		}
		try = base + "-" + letters(n)
	}
}

// takeTrials takes the trials of a parcel with every look, and tells the result
// of those that are closed.
func (m *merger) takeTrials(p Parcel) error {
	for _, in := range p.Trials {
		if in.Plan == nil || in.Made.IsZero() {
			return fmt.Errorf("a trial of the parcel has no plan, or was never made")
		}
		if err := m.trial(in); err != nil {
			return fmt.Errorf("trial %s: %w", in.Plan.Trial, err)
		}
	}
	for _, in := range p.Lots {
		if err := m.entries(in); err != nil {
			return fmt.Errorf("lot %s: %w", in.Name, err)
		}
	}
	return nil
}

func (m *merger) trial(in ParcelTrial) error {
	plan := *in.Plan
	plan.Dishes = append([]trial.Dish(nil), plan.Dishes...)
	for i, d := range plan.Dishes {
		if name, renamed := m.lots[d.Lot]; renamed {
			plan.Dishes[i].Lot = name
		}
	}
	id, err := m.keepTrial(plan, in)
	if err != nil {
		return err
	}
	m.trials[in.Plan.Trial] = id
	looks, err := m.looks(id, in.Looks)
	if err != nil {
		return err
	}
	m.Looks += looks
	t, err := findTrial(m.ctx, m.tx, id)
	if err != nil || in.Closed.IsZero() || t.Counts == nil || looks == 0 && !t.Closed.IsZero() {
		return err
	}
	return m.store.tell(m.ctx, m.tx, t, in.Closed, &Recorded{Trial: id})
}

// keepTrial returns the id under which a trial stands here, and puts it there
// where it is new. A trial is the same where its plan and the time at which it
// was made are: two keepers may well lay out the same plan. One that is here stays
// whose it is, though it comes back from another keeper.
func (m *merger) keepTrial(plan trial.Plan, in ParcelTrial) (string, error) {
	want, err := nameless(plan)
	if err != nil {
		return "", err
	}
	found := ""
	err = eachRow(m.ctx, m.tx, `SELECT id, plan FROM trials WHERE made = ?`, []any{in.Made.UnixMilli()}, func(scan func(...any) error) error {
		var id, text string
		if err := scan(&id, &text); err != nil {
			return err
		}
		here, err := trial.ReadPlan(strings.NewReader(text))
		if err != nil {
			return err
		}
		if have, err := nameless(*here); err != nil || have == want {
			found = id
			return err
		}
		return nil
	})
	if err != nil || found != "" {
		return found, err
	}
	if plan.Trial, err = m.free(`SELECT EXISTS (SELECT 1 FROM trials WHERE id = ?)`, plan.Trial); err != nil {
		return "", err
	}
	b, err := json.Marshal(plan)
	if err != nil {
		return "", err
	}
	m.Trials++
	_, err = m.tx.ExecContext(m.ctx, `INSERT INTO trials (id, taxon, plan, made, keeper) VALUES (?, ?, ?, ?, ?)`,
		plan.Trial, plan.Taxon, string(b), in.Made.UnixMilli(), in.Keeper)
	return plan.Trial, err
}

// nameless is a plan as JSON without its id.
func nameless(p trial.Plan) (string, error) {
	p.Trial = ""
	b, err := json.Marshal(p)
	return string(b), err
}

// looks adds the looks that a trial has not got, and lets the one recorded last
// stand for each dish and day.
func (m *merger) looks(id string, in []ParcelLook) (added int, err error) {
	here, err := parcelLooks(m.ctx, m.tx, id)
	if err != nil {
		return 0, err
	}
	have := map[string]bool{}
	for _, l := range here {
		have[l.print()] = true
	}
	for _, l := range in {
		if have[l.print()] {
			continue
		}
		have[l.print()] = true
		added++
		if _, err := m.tx.ExecContext(m.ctx, `INSERT INTO looks (trial, dish, day, eggs, emerged, hatched, dead, note, sheet, latest, recorded)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, 0, ?)`, id, l.Dish, l.Day, l.Eggs, l.Emerged, l.Hatched, l.Dead, l.Note, l.Sheet, l.Recorded.UnixMilli()); err != nil {
			return 0, err
		}
	}
	if added == 0 {
		return 0, nil
	}
	for _, step := range []string{
		`UPDATE looks SET latest = 0 WHERE trial = ?1`,
		`UPDATE looks SET latest = 1 WHERE trial = ?1 AND id = (SELECT id FROM looks o WHERE o.trial = ?1 AND o.dish = looks.dish AND o.day = looks.day ORDER BY recorded DESC, id DESC LIMIT 1)`,
	} {
		if _, err := m.tx.ExecContext(m.ctx, step, id); err != nil {
			return 0, err
		}
	}
	return added, nil
}

// entries adds what went into and out of a lot and is not known here.
func (m *merger) entries(in ParcelLot) error {
	id := m.lotIDs[in.Name]
	here, err := entriesOf(m.ctx, m.tx, id, "")
	if err != nil {
		return err
	}
	have := map[LotEntry]int{}
	for _, e := range here {
		have[e]++
	}
	for _, e := range in.Entries {
		e.Lot, e.At = "", e.At.UTC().Truncate(time.Millisecond)
		if name, known := m.trials[e.Trial]; known {
			e.Trial = name
		}
		if have[e] > 0 {
			have[e]--
			continue
		}
		m.Entries++
		if err := enterEggs(m.ctx, m.tx, id, e); err != nil {
			return err
		}
	}
	return nil
}

// takeExperiments takes what the other keeper says of experiments published
// twice; of two words on one paper the later stands.
func (m *merger) takeExperiments(p Parcel) error {
	for _, e := range p.Experiments {
		if e.Hash == "" || e.At.IsZero() {
			return fmt.Errorf("an experiment of the parcel is of no paper, or was never judged")
		}
		var at int64
		err := m.tx.QueryRowContext(m.ctx, `SELECT judged FROM experiments WHERE hash = ?`, e.Hash).Scan(&at)
		switch {
		case err == nil && at >= e.At.UnixMilli():
			continue
		case err != nil && !errors.Is(err, sql.ErrNoRows):
			return err
		}
		if err := putExperiment(m.ctx, m.tx, e.Hash, e.First, Experiment{Reason: e.Reason, At: e.At}); err != nil {
			return err
		}
		m.Experiments++
	}
	return nil
}
