package store

import (
	"context"
	"fmt"
	"strings"
)

// AmbiguousClaim is the error for the beginning of an id that several claims
// share.
type AmbiguousClaim struct {
	Asked string
	Fits  []string // some of them
}

func (e *AmbiguousClaim) Error() string {
	return fmt.Sprintf("claim %s can be %s: give more letters of its id", e.Asked, strings.Join(e.Fits, " or "))
}

// mostFits bounds how many ids an [AmbiguousClaim] lists.
const mostFits = 4

// leastAsked is how much of an id must be given: a slip of the finger is less
// likely to name another claim.
const leastAsked = 4

// ClaimID completes the beginning of a claim's id. It looks among the claims
// of the library, else among those that were decided upon: a claim of an
// earlier reading, or one that the keeper added and took back.
func (s *Store) ClaimID(ctx context.Context, beginning string) (string, error) {
	asked := strings.ToLower(strings.TrimSpace(beginning))
	if asked == "" || strings.Trim(asked, "0123456789abcdef") != "" {
		return "", fmt.Errorf("claim %q: %w", beginning, ErrNoClaim)
	}
	if len(asked) < leastAsked {
		return "", fmt.Errorf("claim %s: give %d letters of its id or more", asked, leastAsked)
	}
	for _, q := range []string{
		`SELECT DISTINCT id FROM claims WHERE id >= ? AND id < ? ORDER BY id`,
		`SELECT DISTINCT made_on FROM decisions WHERE made_on >= ? AND made_on < ? ORDER BY made_on`,
	} {
		fits, err := s.idsFrom(ctx, q, asked)
		switch {
		case err != nil:
			return "", err
		case len(fits) == 1 || len(fits) > 0 && fits[0] == asked:
			return fits[0], nil
		case len(fits) > 1:
			return "", &AmbiguousClaim{asked, fits}
		}
	}
	return "", fmt.Errorf("claim %s: %w", asked, ErrNoClaim)
}

// idsFrom returns the first ids with a beginning; "g" sorts behind every
// hexadecimal digit.
func (s *Store) idsFrom(ctx context.Context, query, beginning string) ([]string, error) {
	return column(ctx, s.file.Read(), query+fmt.Sprintf(" LIMIT %d", mostFits), beginning, beginning+"g")
}

// leastID is the shortest form in which an id is shown, so that it does not
// grow with the first papers.
const leastID = 5

// IDLength returns how many letters tell all claims of the library apart.
func (s *Store) IDLength(ctx context.Context) (int, error) {
	length, last := leastID, ""
	err := eachRow(ctx, s.file.Read(), `SELECT id FROM claims ORDER BY id`, nil, func(scan func(...any) error) error {
		var id string
		err := scan(&id)
		if id != last {
			length = max(length, shared(id, last)+1)
		}
		last = id
		return err
	})
	return length, err
}

// shared counts the letters with which both begin.
func shared(a, b string) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}
