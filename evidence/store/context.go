package store

import (
	"context"
	"database/sql"
	"errors"

	"hatchlore/evidence"
	"hatchlore/evidence/store/disk"
)

// Context returns up to most characters of what stands before and after a
// claim's quote: on its page where the library has it, else as it came with
// the claim from another library.
func (s *Store) Context(ctx context.Context, c evidence.Claim, most int) (before, after string, err error) {
	page, err := s.Page(ctx, c.Paper, c.Page)
	switch {
	case err == nil:
		before, after = beside([]rune(page.Text), c, most)
		return before, after, nil
	case !errors.Is(err, ErrNoPage):
		return "", "", err
	}
	id, _, err := paperHead(ctx, s.file.Read(), c.Paper)
	if err != nil {
		return "", "", err
	}
	return storedContext(ctx, s.file.Read(), id, c.ID)
}

// storedContext returns what came with a claim from another library.
func storedContext(ctx context.Context, q disk.Querier, paper int64, claim string) (before, after string, err error) {
	err = q.QueryRowContext(ctx, `SELECT prefix, suffix FROM contexts WHERE paper = ? AND claim = ?`, paper, claim).Scan(&before, &after)
	if errors.Is(err, sql.ErrNoRows) {
		return "", "", nil
	}
	return before, after, explain(err)
}
