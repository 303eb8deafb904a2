package store

import (
	"context"
	"encoding/json"
	"fmt"
	"iter"
)

// Authorships yields of every paper what a citation of it can say: its record,
// without the journal's name. It is much quicker than [Store.Papers], which counts.
func (s *Store) Authorships(ctx context.Context) iter.Seq2[Record, error] {
	return func(yield func(Record, error) bool) {
		rows, err := s.file.Read().QueryContext(ctx, `SELECT key, title, authors, year, volume, extent, doi FROM papers`)
		if err != nil {
			yield(Record{}, explain(err))
			return
		}
		defer rows.Close()
		for rows.Next() {
			var r Record
			var authors string
			err := rows.Scan(&r.Key, &r.Title, &authors, &r.Year, &r.Volume, &r.Extent, &r.DOI)
			if err == nil && json.Unmarshal([]byte(authors), &r.Authors) != nil {
				err = fmt.Errorf("authors of %s: %w", r.Key, ErrDamaged)
			}
			if !yield(r, explain(err)) || err != nil {
				return
			}
		}
		if err := rows.Err(); err != nil {
			yield(Record{}, explain(err))
		}
	}
}
