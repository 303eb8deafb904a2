package store

import (
	"context"
	"database/sql"
	"fmt"
	"time"
)

// Experiment is the keeper's word on whether a paper publishes an experiment
// that another one published first.
type Experiment struct {
	Paper  string    `json:"paper"` // key
	First  string    `json:"first"` // key of the first publication; "" for an experiment of its own
	Reason string    `json:"reason"`
	At     time.Time `json:"at"`
}

// SetExperiment notes that the paper publishes the experiment of first again,
// or with first "" that its experiment is its own. A zero time is now.
func (s *Store) SetExperiment(ctx context.Context, e Experiment) error {
	if e.At.IsZero() {
		e.At = time.Now()
	}
	if e.Paper == e.First {
		return fmt.Errorf("%s cannot publish its own experiment a second time: name two papers", e.Paper)
	}
	return s.file.Change(ctx, "noting an experiment", func(tx *sql.Tx) error {
		_, paper, err := paperHead(ctx, tx, e.Paper)
		if err != nil {
			return err
		}
		first := ""
		if e.First != "" {
			_, head, err := paperHead(ctx, tx, e.First)
			if err != nil {
				return err
			}
			first = head.Hash
		}
		var circle bool
		if err := tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM experiments WHERE hash = ? AND first = ?)`, first, paper.Hash).Scan(&circle); err != nil {
			return err
		}
		if circle {
			return fmt.Errorf("%s is said to publish the experiment of %s: take that back first", e.First, e.Paper)
		}
		return putExperiment(ctx, tx, paper.Hash, first, e)
	})
}

func putExperiment(ctx context.Context, tx *sql.Tx, hash, first string, e Experiment) error {
	_, err := tx.ExecContext(ctx, `INSERT OR REPLACE INTO experiments (hash, first, reason, judged) VALUES (?, ?, ?, ?)`, hash, first, e.Reason, e.At.UnixMilli())
	return err
}

// RemoveExperiment takes back what was said of a paper; known is false where
// nothing was.
func (s *Store) RemoveExperiment(ctx context.Context, paper string) (known bool, err error) {
	err = s.file.Change(ctx, "taking an experiment back", func(tx *sql.Tx) error {
		_, head, err := paperHead(ctx, tx, paper)
		if err != nil {
			return err
		}
		known, err = anyRow(tx.ExecContext(ctx, `DELETE FROM experiments WHERE hash = ?`, head.Hash))
		return err
	})
	return known, err
}

// Experiments returns what was said of papers that are here, by key. Where the
// first publication is not here the paper counts by itself.
func (s *Store) Experiments(ctx context.Context) ([]Experiment, error) {
	var out []Experiment
	err := eachRow(ctx, s.file.Read(), `SELECT p.key, coalesce(f.key, ''), e.reason, e.judged FROM experiments e
		CROSS JOIN papers p ON p.hash = e.hash LEFT JOIN papers f ON f.hash = e.first ORDER BY p.key`, nil, func(scan func(...any) error) error {
		var e Experiment
		var at int64
		err := scan(&e.Paper, &e.First, &e.Reason, &at)
		e.At = time.UnixMilli(at).UTC()
		out = append(out, e)
		return err
	})
	return out, err
}
