package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/store/disk"
)

// Filter says which claims are asked for. Fields that are empty ask for
// nothing; several together must all hold.
type Filter struct {
	Taxa     []string          // any of these, exactly as claims spell them
	Factors  []evidence.Factor // any of these
	Paper    string            // citation key
	Page     int               // of Paper
	Rejected bool              // also claims that the keeper rejected

	Secondhand bool // only claims that are somebody else's findings
}

const claimColumns = `c.id, p.source, p.key, c.page, c.first, c.past, c.quote, c.section, c.taxon, c.taxon_printed, c.stage,
	c.factor, c.bearing, c.low, c.high, c.unit, c.category, c.printed, c.secondhand, c.cited, c.implied, c.inferred,
	c.twice_read, c.ocr, c.rule, c.score, c.decision, c.entries`

func scanClaim(scan func(...any) error, more ...any) (evidence.Claim, error) {
	var c evidence.Claim
	var entries string
	err := scan(append([]any{&c.ID, &c.Source, &c.Paper, &c.Page, &c.Start, &c.End, &c.Quote, &c.Section, &c.Taxon, &c.TaxonPrinted, &c.Stage,
		&c.Factor, &c.Bearing, &c.Low, &c.High, &c.Unit, &c.Category, &c.Printed, &c.Secondhand, &c.Cited, &c.Implied, &c.Inferred,
		&c.TwiceRead, &c.OCR, &c.Rule, &c.Score, &c.Decision, &entries}, more...)...)
	if err == nil && entries != "" && json.Unmarshal([]byte(entries), &c.Entries) != nil {
		err = fmt.Errorf("entries of claim %s: %w", c.ID, ErrDamaged)
	}
	return c, err
}

// query returns the SQL that answers f. Conditions that do not apply are left
// out, so that SQLite sees which index serves.
func (f Filter) query() (string, []any, error) {
	var where []string
	var args []any
	list := func(column string, values any) error {
		b, err := json.Marshal(values)
		where = append(where, column+` IN (SELECT value FROM json_each(?))`)
		args = append(args, string(b))
		return err
	}
	if len(f.Taxa) > 0 {
		if err := list("c.taxon", f.Taxa); err != nil {
			return "", nil, err
		}
	}
	if len(f.Factors) > 0 {
		if err := list("c.factor", f.Factors); err != nil {
			return "", nil, err
		}
	}
	if f.Paper != "" {
		where, args = append(where, `c.paper = (SELECT id FROM papers WHERE key = ?)`), append(args, f.Paper)
	}
	if f.Page > 0 {
		where, args = append(where, `c.page = ?`), append(args, f.Page)
	}
	if f.Secondhand {
		where = append(where, `c.secondhand = 1`)
	}
	if !f.Rejected {
		where, args = append(where, `c.decision <> ?`), append(args, evidence.Rejected)
	}
	q := `SELECT ` + claimColumns + ` FROM claims c JOIN papers p ON p.id = c.paper`
	if len(where) > 0 {
		q += ` WHERE ` + strings.Join(where, ` AND `)
	}
	return q + ` ORDER BY p.key, c.page, c.first, c.factor, c.id`, args, nil
}

// Claims returns the claims that f asks for, with the keeper's decisions in
// force, ordered by paper, page and place on the page.
func (s *Store) Claims(ctx context.Context, f Filter) ([]evidence.Claim, error) {
	return selectClaims(ctx, s.file.Read(), f)
}

func selectClaims(ctx context.Context, q disk.Querier, f Filter) ([]evidence.Claim, error) {
	text, args, err := f.query()
	if err != nil {
		return nil, err
	}
	var out []evidence.Claim
	err = eachRow(ctx, q, text, args, func(scan func(...any) error) error {
		c, err := scanClaim(scan)
		out = append(out, c)
		return err
	})
	return out, err
}

// Claim returns the claim with the given id, whatever was decided about it. An
// id from before a re-reading finds the claim that the keeper's decision was
// carried over to.
func (s *Store) Claim(ctx context.Context, id string) (evidence.Claim, error) {
	c, err := findClaim(ctx, s.file.Read(), id)
	return c.Claim, err
}

// placed is a claim with the paper it belongs to.
type placed struct {
	evidence.Claim
	paper int64
	hash  string
}

func findClaim(ctx context.Context, q disk.Querier, id string) (placed, error) {
	const text = `SELECT ` + claimColumns + `, c.paper, p.hash FROM claims c JOIN papers p ON p.id = c.paper WHERE c.id = ? ORDER BY c.paper LIMIT 1`
	var out placed
	var err error
	for _, try := range []string{id, ""} {
		if try == "" {
			err := q.QueryRowContext(ctx, `SELECT claim FROM decisions WHERE made_on = ? AND claim IS NOT NULL ORDER BY id DESC LIMIT 1`, id).Scan(&try)
			if errors.Is(err, sql.ErrNoRows) {
				break
			}
			if err != nil {
				return out, explain(err)
			}
		}
		out.Claim, err = scanClaim(q.QueryRowContext(ctx, text, try).Scan, &out.paper, &out.hash)
		if err == nil || !errors.Is(err, sql.ErrNoRows) {
			return out, explain(err)
		}
	}
	return placed{}, fmt.Errorf("claim %s: %w", id, ErrNoClaim)
}

// taxonNamesQuery goes from one name to the next by the index, so that its
// cost is that of the names and not of the claims.
const taxonNamesQuery = `WITH RECURSIVE names(taxon) AS (
		SELECT min(taxon) FROM claims
		UNION ALL SELECT (SELECT min(c.taxon) FROM claims c WHERE c.taxon > names.taxon) FROM names WHERE names.taxon IS NOT NULL)
	SELECT taxon FROM names WHERE taxon IS NOT NULL AND EXISTS (SELECT 1 FROM claims c WHERE c.taxon = names.taxon AND c.decision <> ?)`

// TaxonNames returns every taxon that claims speak of, by name, rejected claims
// aside.
func (s *Store) TaxonNames(ctx context.Context) ([]string, error) {
	return column(ctx, s.file.Read(), taxonNamesQuery, evidence.Rejected)
}

const insertClaim = `INSERT OR IGNORE INTO claims (id, paper, page, first, past, quote, section, taxon, taxon_printed, stage,
	factor, bearing, low, high, unit, category, printed, secondhand, cited, implied, inferred, twice_read, ocr, rule, score, decision, entries)
	VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`

func insertClaims(ctx context.Context, tx *sql.Tx, paper int64, claims []evidence.Claim) error {
	stmt, err := tx.PrepareContext(ctx, insertClaim)
	if err != nil {
		return err
	}
	defer stmt.Close()
	for _, c := range claims {
		if c.ID == "" {
			return fmt.Errorf("page %d: a claim without an id", c.Page)
		}
		c.Decision = evidence.Undecided // decisions come from the keeper alone
		values, err := claimValues(paper, c)
		if err != nil {
			return err
		}
		if _, err := stmt.ExecContext(ctx, values...); err != nil {
			return fmt.Errorf("claim %s on page %d: %w", c.ID, c.Page, err)
		}
	}
	return nil
}

func claimValues(paper int64, c evidence.Claim) ([]any, error) {
	entries := ""
	if len(c.Entries) > 0 {
		b, err := json.Marshal(c.Entries)
		if err != nil {
			return nil, err
		}
		entries = string(b)
	}
	return []any{c.ID, paper, c.Page, c.Start, c.End, c.Quote, c.Section, c.Taxon, c.TaxonPrinted, c.Stage,
		c.Factor, c.Bearing, c.Low, c.High, c.Unit, c.Category, c.Printed, c.Secondhand, c.Cited, c.Implied, c.Inferred,
		c.TwiceRead, c.OCR, c.Rule, c.Score, c.Decision, entries}, nil
}

// rewriteClaim puts c in place of the claim with the same id and paper.
func rewriteClaim(ctx context.Context, tx *sql.Tx, paper int64, c evidence.Claim) error {
	if _, err := tx.ExecContext(ctx, `DELETE FROM claims WHERE id = ? AND paper = ?`, c.ID, paper); err != nil {
		return err
	}
	values, err := claimValues(paper, c)
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, insertClaim, values...)
	return err
}
