package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	"hatchlore/evidence/store/disk"
)

// Lot is a batch of eggs of one origin. Region is the place as it may be told
// to others; Site is the place in full, which stays with the keeper.
type Lot struct {
	Name      string   `json:"lot"`
	Taxon     string   `json:"taxon"`
	Region    string   `json:"region"`
	Site      string   `json:"site"`
	Collector string   `json:"collector"`
	Permit    string   `json:"permit"`
	Collected string   `json:"collected"` // ISO 8601 date, "" when unknown
	Sediment  string   `json:"sediment"`
	Sieve     *float64 `json:"sieve_um"` // mesh, µm; nil when none was used
	Note      string   `json:"note"`
	Eggs      int      `json:"eggs"` // put in all in all
	Left      int      `json:"eggs_left"`
}

// ErrNoLot says that there is no such lot.
var ErrNoLot = errors.New("no such lot in the library: 'hatchlore lot list' lists them")

// LotEntry is one change of the eggs in a lot.
type LotEntry struct {
	Lot    string    `json:"lot"`
	Eggs   int       `json:"eggs"`  // put in; below 0 taken out
	Trial  string    `json:"trial"` // that took them, "" for the keeper's own count
	Reason string    `json:"reason"`
	At     time.Time `json:"at"`
}

// AddLot stores a new lot with its eggs.
func (s *Store) AddLot(ctx context.Context, l Lot) error {
	if strings.TrimSpace(l.Name) == "" || l.Eggs < 0 {
		return fmt.Errorf("a lot needs a name and a number of eggs, 0 or more")
	}
	return s.file.Change(ctx, "adding a lot", func(tx *sql.Tx) error {
		if _, _, err := lotNamed(ctx, tx, l.Name); !errors.Is(err, ErrNoLot) {
			if err == nil {
				err = fmt.Errorf("there is a lot %s already: choose another name, or change it with 'hatchlore lot edit'", l.Name)
			}
			return err
		}
		now := time.Now()
		res, err := tx.ExecContext(ctx, `INSERT INTO lots (taxon, region, site, collector, permit, collected, sediment, sieve, note, name, added)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`, append(lotValues(l), l.Name, now.UnixMilli())...)
		if err != nil {
			return err
		}
		id, err := res.LastInsertId()
		if err != nil {
			return err
		}
		return enterEggs(ctx, tx, id, LotEntry{Eggs: l.Eggs, Reason: "added", At: now})
	})
}

func lotValues(l Lot) []any {
	return []any{l.Taxon, l.Region, l.Site, l.Collector, l.Permit, l.Collected, l.Sediment, l.Sieve, l.Note}
}

// EditLot writes anew what is known of a lot. When left is not nil, the eggs
// left were counted anew; the difference is entered with the reason.
func (s *Store) EditLot(ctx context.Context, l Lot, left *int, reason string) error {
	return s.file.Change(ctx, "editing a lot", func(tx *sql.Tx) error {
		id, old, err := lotNamed(ctx, tx, l.Name)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `UPDATE lots SET taxon = ?, region = ?, site = ?, collector = ?, permit = ?, collected = ?,
			sediment = ?, sieve = ?, note = ? WHERE id = ?`, append(lotValues(l), id)...); err != nil {
			return err
		}
		if left == nil || *left == old.Left {
			return nil
		}
		return enterEggs(ctx, tx, id, LotEntry{Eggs: *left - old.Left, Reason: reason, At: time.Now()})
	})
}

func enterEggs(ctx context.Context, tx *sql.Tx, lot int64, e LotEntry) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO lot_entries (lot, eggs, trial, reason, entered) VALUES (?, ?, ?, ?, ?)`,
		lot, e.Eggs, sql.NullString{String: e.Trial, Valid: e.Trial != ""}, e.Reason, e.At.UnixMilli())
	return err
}

const lotQuery = `SELECT l.id, l.name, l.taxon, l.region, l.site, l.collector, l.permit, l.collected, l.sediment, l.sieve, l.note,
	(SELECT coalesce(sum(eggs), 0) FROM lot_entries e WHERE e.lot = l.id AND e.trial IS NULL),
	(SELECT coalesce(sum(eggs), 0) FROM lot_entries e WHERE e.lot = l.id) FROM lots l`

func scanLot(scan func(...any) error) (id int64, l Lot, err error) {
	err = scan(&id, &l.Name, &l.Taxon, &l.Region, &l.Site, &l.Collector, &l.Permit, &l.Collected, &l.Sediment, &l.Sieve, &l.Note, &l.Eggs, &l.Left)
	return id, l, err
}

func lotNamed(ctx context.Context, q disk.Querier, name string) (int64, Lot, error) {
	id, l, err := scanLot(q.QueryRowContext(ctx, lotQuery+` WHERE l.name = ?`, name).Scan)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, Lot{}, fmt.Errorf("%s: %w", name, ErrNoLot)
	}
	return id, l, explain(err)
}

// Lot returns the lot with the given name, in capitals or not.
func (s *Store) Lot(ctx context.Context, name string) (Lot, error) {
	_, l, err := lotNamed(ctx, s.file.Read(), name)
	return l, err
}

// Lots returns every lot by name.
func (s *Store) Lots(ctx context.Context) ([]Lot, error) {
	var out []Lot
	err := eachRow(ctx, s.file.Read(), lotQuery+` ORDER BY l.name`, nil, func(scan func(...any) error) error {
		_, l, err := scanLot(scan)
		out = append(out, l)
		return err
	})
	return out, err
}

// LotEntries returns what went into and out of a lot, oldest first.
func (s *Store) LotEntries(ctx context.Context, name string) ([]LotEntry, error) {
	id, l, err := lotNamed(ctx, s.file.Read(), name)
	if err != nil {
		return nil, err
	}
	return entriesOf(ctx, s.file.Read(), id, l.Name)
}

// spend makes the eggs that a trial took from each lot the given numbers, by
// entries of the difference. Lots that the library does not know are passed
// over.
func spend(ctx context.Context, tx *sql.Tx, trial string, spent map[string]int, at time.Time) error {
	for name, eggs := range spent {
		id, _, err := lotNamed(ctx, tx, name)
		if errors.Is(err, ErrNoLot) {
			continue
		}
		if err != nil {
			return err
		}
		var sum int
		if err := tx.QueryRowContext(ctx, `SELECT coalesce(sum(eggs), 0) FROM lot_entries WHERE lot = ? AND trial = ?`, id, trial).Scan(&sum); err != nil {
			return err
		}
		if sum == -eggs {
			continue
		}
		if err := enterEggs(ctx, tx, id, LotEntry{Eggs: -eggs - sum, Trial: trial, Reason: "set in trial " + trial, At: at}); err != nil {
			return err
		}
	}
	return nil
}
