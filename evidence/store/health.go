package store

import (
	"context"
	"errors"
)

// maxFaults bounds how many faults of a damaged file are listed.
const maxFaults = 20

// Faults looks through the whole library and lists what is wrong with it, each
// fault a line; none for a sound library. Damage that stops the search is a
// fault, not an error.
func (s *Store) Faults(ctx context.Context) ([]string, error) {
	var out []string
	for _, q := range []string{
		`SELECT integrity_check FROM pragma_integrity_check WHERE integrity_check <> 'ok'`,
		`SELECT 'a row of ' || "table" || ' belongs to nothing' FROM pragma_foreign_key_check`,
		`SELECT 'decision ' || d.id || ' stands on claim ' || d.claim || ', which is missing' FROM decisions d
			WHERE d.latest = 1 AND d.claim IS NOT NULL AND d.verdict <> ''
			AND NOT EXISTS (SELECT 1 FROM claims c JOIN papers p ON p.id = c.paper WHERE c.id = d.claim AND p.hash = d.hash)`,
	} {
		rows, err := column(ctx, s.file.Read(), q)
		out = append(out, rows...)
		if errors.Is(err, ErrDamaged) {
			return append(out, err.Error()), nil
		}
		if err != nil {
			return out, err
		}
	}
	return s.unreadable(ctx, out)
}

// unreadable adds the pages whose text does not unpack.
func (s *Store) unreadable(ctx context.Context, out []string) ([]string, error) {
	var keys []string
	for l, err := range s.Papers(ctx) {
		if err != nil {
			return append(out, err.Error()), ctx.Err()
		}
		keys = append(keys, l.Paper)
	}
	for _, key := range keys {
		for _, err := range s.Pages(ctx, key) {
			if err != nil && len(out) < maxFaults {
				out = append(out, err.Error())
			}
		}
	}
	return out, ctx.Err()
}
