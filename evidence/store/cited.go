package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"hatchlore/evidence"
	"hatchlore/evidence/store/packed"
	"hatchlore/ingest"
)

// FormatCited is the format of a source that is known by its citation alone: a
// book on a shelf, a letter. Its pages hold the words that the keeper typed
// from it and nothing else.
const FormatCited = "cited"

// CitedHash stands for the content hash of a source that is no file. The same
// citation, however its blanks and capitals fall, is the same source.
func CitedHash(citation string) string {
	sum := sha256.Sum256([]byte("cited source\n" + strings.ToLower(tidy(citation))))
	return hex.EncodeToString(sum[:])
}

// AddFromSource stores a claim that the keeper typed from a source that is not
// in the library as a file. Of source it takes Key, Source (the citation) and
// what is known of it; where the source is known already its record stays. c
// needs Page, Quote and what it says.
func (s *Store) AddFromSource(ctx context.Context, source Paper, c evidence.Claim, reason string, at time.Time) (evidence.Claim, error) {
	if tidy(source.Source) == "" || source.Key == "" {
		return evidence.Claim{}, errors.New("a source that is not in the library needs its citation")
	}
	if c.Page < 1 || tidy(c.Quote) == "" {
		return evidence.Claim{}, errors.New("a claim needs the page and the words it stands on")
	}
	source.Hash, source.Format, source.State = CitedHash(source.Source), FormatCited, NoFile
	if at.IsZero() {
		at = time.Now()
	}
	source.Ingested = at
	err := s.file.Change(ctx, "adding a claim", func(tx *sql.Tx) error {
		id, key, err := citedSource(ctx, tx, source)
		if err != nil {
			return err
		}
		c.Paper, c.Source, c.Rule, c.Score, c.Decision = key, source.Source, HandRule, 1, evidence.Accepted
		c, err = addWords(ctx, tx, s.packer, id, source.Hash, c)
		if err != nil {
			return err
		}
		return addByHand(ctx, tx, id, source.Hash, c, reason, at)
	})
	return c, err
}

// citedSource returns the source's row, made where it is new.
func citedSource(ctx context.Context, tx *sql.Tx, source Paper) (id int64, key string, err error) {
	err = tx.QueryRowContext(ctx, `SELECT id, key FROM papers WHERE hash = ?`, source.Hash).Scan(&id, &key)
	if !errors.Is(err, sql.ErrNoRows) {
		return id, key, err
	}
	if source.Key, err = freeKey(ctx, tx, source.Key); err != nil {
		return 0, "", err
	}
	id, err = insertPaper(ctx, tx, source, "")
	return id, source.Key, err
}

// addWords puts c's quote on its page of a cited source, unless it stands
// there, and returns c placed on it with its id.
func addWords(ctx context.Context, tx *sql.Tx, pk *packed.Packer, id int64, hash string, c evidence.Claim) (evidence.Claim, error) {
	page := ingest.Page{Number: c.Page, How: ingest.ByText}
	var text, lay []byte
	err := tx.QueryRowContext(ctx, `SELECT how, why, text, layout FROM pages WHERE paper = ? AND number = ?`, id, c.Page).Scan(&page.How, &page.Why, &text, &lay)
	switch {
	case errors.Is(err, sql.ErrNoRows):
	case err != nil:
		return c, err
	default:
		if err := packed.Into(&page, text, lay); err != nil {
			return c, err
		}
	}
	if !strings.Contains(page.Text, c.Quote) {
		if page.Text != "" {
			page.Text += "\n\n"
		}
		c.Start = utf8.RuneCountInString(page.Text)
		page.Text += c.Quote
		if err := putCitedPage(ctx, tx, pk, id, page); err != nil {
			return c, err
		}
	}
	if !place(&c, page) {
		return c, fmt.Errorf("%s, page %d: the words cannot be placed", c.Paper, c.Page)
	}
	c.ID = citedID(c, hash)
	return c, nil
}

// putCitedPage writes a page and gives the source a new digest, so that the
// index takes it in.
func putCitedPage(ctx context.Context, tx *sql.Tx, pk *packed.Packer, id int64, page ingest.Page) error {
	text, lay, err := pk.Page(page)
	if err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, `INSERT OR REPLACE INTO pages (paper, number, how, why, text, layout) VALUES (?, ?, ?, ?, ?, ?)`,
		id, page.Number, page.How, page.Why, text, lay); err != nil {
		return err
	}
	sum := sha256.Sum256([]byte(fmt.Sprint(page.Number, page.Text)))
	_, err = tx.ExecContext(ctx, `UPDATE papers SET digest = ? WHERE id = ?`, hex.EncodeToString(sum[:16]), id)
	return err
}

// citedID is the id of a claim of a cited source. The place on the page is no
// part of it: two keepers who type the same words, in whatever order, make the
// same claim.
func citedID(c evidence.Claim, hash string) string {
	words := c.Quote
	c.Start, c.End = 0, 0
	return c.MakeID(hash + words)
}

// addByHand stores a sound claim that the keeper made, and that it is
// accepted.
func addByHand(ctx context.Context, tx *sql.Tx, paper int64, hash string, c evidence.Claim, reason string, at time.Time) error {
	if problems := c.Lint(); len(problems) > 0 {
		return fmt.Errorf("%s, page %d: the claim is not sound: %s", c.Paper, c.Page, join(problems))
	}
	if _, err := findClaim(ctx, tx, c.ID); err == nil {
		return fmt.Errorf("claim %s says this already: accept it instead", c.ID)
	} else if !errors.Is(err, ErrNoClaim) {
		return err
	}
	thread, _, err := latestOn(ctx, tx, placed{Claim: c, hash: hash}) // one that was taken back goes on
	if err != nil {
		return err
	}
	if err := rewriteClaim(ctx, tx, paper, c); err != nil {
		return err
	}
	return record(ctx, tx, thread, Decision{Claim: c.ID, Hash: hash, ByHand: true, Reading: c, Verdict: evidence.Accepted, Reason: reason, At: at})
}

// takeOut removes a claim that the keeper made and takes back, and its source where
// nothing else was typed from it. What was decided stays.
func takeOut(ctx context.Context, tx *sql.Tx, paper int64, claim string) error {
	if _, err := tx.ExecContext(ctx, `DELETE FROM claims WHERE id = ? AND paper = ?`, claim, paper); err != nil {
		return err
	}
	_, err := dropEmptied(ctx, tx, paper)
	return err
}

// dropEmptied removes a source that is known by its citation alone where no claim of
// it is left: there is nothing in it but words that were taken back.
func dropEmptied(ctx context.Context, tx *sql.Tx, paper int64) (dropped bool, err error) {
	return anyRow(tx.ExecContext(ctx, `DELETE FROM papers WHERE id = ?1 AND format = ?2 AND NOT EXISTS (SELECT 1 FROM claims WHERE paper = ?1)`, paper, FormatCited))
}
