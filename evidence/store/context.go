package store

import (
	"context"
	"database/sql"
	"errors"

	"hatchlore/evidence"
)

// Context returns up to most characters of what stands before and after a
// claim's quote: on its page where the library has it, else as it came with
// the claim from another library.
func (s *Store) Context(ctx context.Context, c evidence.Claim, most int) (before, after string, err error) {
	page, err := s.Page(ctx, c.Paper, c.Page)
	switch {
	case err == nil:
		runes := []rune(page.Text)
		if c.Start < 0 || c.End > len(runes) || c.Start > c.End || string(runes[c.Start:c.End]) != c.Quote {
			return "", "", nil // words of an earlier reading
		}
		return string(runes[max(0, c.Start-most):c.Start]), string(runes[c.End:min(len(runes), c.End+most)]), nil
	case !errors.Is(err, ErrNoPage):
		return "", "", err
	}
	err = s.read.QueryRowContext(ctx, `SELECT prefix, suffix FROM contexts WHERE claim = ? AND paper = (SELECT id FROM papers WHERE key = ?)`,
		c.ID, c.Paper).Scan(&before, &after)
	if errors.Is(err, sql.ErrNoRows) {
		return "", "", nil
	}
	return lastRunes(before, most), firstRunes(after, most), explain(err)
}

func firstRunes(s string, n int) string {
	r := []rune(s)
	return string(r[:min(n, len(r))])
}

func lastRunes(s string, n int) string {
	r := []rune(s)
	return string(r[max(0, len(r)-n):])
}
