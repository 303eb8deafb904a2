package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
)

// Record is the part of a paper that the keeper may mend.
type Record struct {
	Key     string
	Title   string
	Authors []string
	Year    int
	Journal string
	Volume  string
	Extent  string
	DOI     string
}

// Record is what the library has as the paper's reference.
func (p Paper) Record() Record {
	return Record{p.Key, p.Title, p.Authors, p.Year, p.Journal, p.Volume, p.Extent, p.DOI}
}

// Mend puts the keeper's record in place of what was read, for good: a new
// reading of the file does not touch it. A key that another paper has is
// refused.
func (s *Store) Mend(ctx context.Context, key string, r Record) error {
	if r.Key == "" {
		return fmt.Errorf("mending %s: a paper needs a key", key)
	}
	if r.Authors == nil {
		r.Authors = []string{}
	}
	authors, err := json.Marshal(r.Authors)
	if err != nil {
		return err
	}
	return s.file.Change(ctx, "mending "+key, func(tx *sql.Tx) error {
		id, _, err := paperHead(ctx, tx, key)
		if err != nil {
			return err
		}
		var taken bool
		if err := tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM papers WHERE key = ? AND id <> ?)`, r.Key, id).Scan(&taken); err != nil {
			return err
		}
		if taken {
			return fmt.Errorf("the key %s belongs to another paper: choose another", r.Key)
		}
		_, err = tx.ExecContext(ctx, `UPDATE papers SET key = ?, title = ?, authors = ?, year = ?, journal = ?, volume = ?, extent = ?, doi = ?, edited = edited + 1 WHERE id = ?`,
			r.Key, r.Title, string(authors), r.Year, r.Journal, r.Volume, r.Extent, r.DOI, id)
		return err
	})
}
