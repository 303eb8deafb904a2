package store

import (
	"context"
	"database/sql"
	"fmt"
	"strings"
	"time"

	"hatchlore/evidence/store/disk"
)

// Alias says that the keeper reads one name as another.
type Alias struct {
	Old    string
	New    string
	Reason string
	At     time.Time
}

// SetAlias reads a.Old as a.New from now on, in place of what it was read as
// before. Letters' case makes no difference to a.Old. A zero time is now. That
// the two differ, and that no circle closes, is for the caller to see to.
func (s *Store) SetAlias(ctx context.Context, a Alias) error {
	a.Old, a.New = tidy(a.Old), tidy(a.New)
	if a.Old == "" || a.New == "" {
		return fmt.Errorf("an alias needs two names, not %q and %q", a.Old, a.New)
	}
	if a.At.IsZero() {
		a.At = time.Now()
	}
	return s.file.Change(ctx, "noting a name", func(tx *sql.Tx) error { return putAlias(ctx, tx, a) })
}

func putAlias(ctx context.Context, tx *sql.Tx, a Alias) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO aliases (old, new, reason, made) VALUES (?, ?, ?, ?)
		ON CONFLICT (old) DO UPDATE SET old = excluded.old, new = excluded.new, reason = excluded.reason, made = excluded.made`,
		a.Old, a.New, a.Reason, a.At.UnixMilli())
	return err
}

func tidy(name string) string { return strings.Join(strings.Fields(name), " ") }

// RemoveAlias reads old as itself again; known is false where it was read so
// already.
func (s *Store) RemoveAlias(ctx context.Context, old string) (known bool, err error) {
	err = s.file.Change(ctx, "taking a name back", func(tx *sql.Tx) (err error) {
		known, err = anyRow(tx.ExecContext(ctx, `DELETE FROM aliases WHERE old = ?`, tidy(old)))
		return err
	})
	return known, err
}

// Aliases returns every alias, by its old name.
func (s *Store) Aliases(ctx context.Context) ([]Alias, error) {
	return selectAliases(ctx, s.file.Read())
}

func selectAliases(ctx context.Context, q disk.Querier) ([]Alias, error) {
	var out []Alias
	err := eachRow(ctx, q, `SELECT old, new, reason, made FROM aliases ORDER BY old`, nil, func(scan func(...any) error) error {
		var a Alias
		var at int64
		err := scan(&a.Old, &a.New, &a.Reason, &at)
		a.At = time.UnixMilli(at).UTC()
		out = append(out, a)
		return err
	})
	return out, err
}
