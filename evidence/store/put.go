package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"hatchlore/evidence"
	"hatchlore/evidence/store/packed"
	"hatchlore/ingest/reference"
)

// Change says what Put did.
type Change string

const (
	Added     Change = "added"
	Replaced  Change = "replaced"  // the file was known, its reading differs
	Unchanged Change = "unchanged" // nothing was written
)

// Stored is the outcome of a Put.
type Stored struct {
	Key    string // the key given, or with a letter behind it where another paper had it
	Change Change
	Lost   []int64 // decisions that no longer find their claim in this reading; see [Store.Lost]
}

// Put stores a paper with its claims, whole or not at all. A file that is
// known by its hash keeps its key and its mended record; its pages and claims
// are replaced when anything of the reading changed, and the keeper's
// decisions are carried over to the new claims. Where Source leads to now is
// noted, for [Store.File].
//
// Claims with the same id are the same statement: the first is kept. Each
// claim's Paper is set to the paper's key.
func (s *Store) Put(ctx context.Context, p Paper, claims []evidence.Claim) (Stored, error) {
	if p.Hash == "" || p.Key == "" {
		return Stored{}, fmt.Errorf("storing %s: a paper needs a hash and a key", p.Source)
	}
	if p.State == "" {
		p.State = StateOf(p.Pages)
	}
	sum, err := digest(p, claims)
	if err != nil {
		return Stored{}, fmt.Errorf("storing %s: %w", p.Source, err)
	}
	if key, same, err := s.sameReading(ctx, p.Hash, sum); err != nil || same {
		return Stored{Key: key, Change: Unchanged}, err
	}
	if p.Ingested.IsZero() {
		p.Ingested = time.Now()
	}
	var out Stored
	err = s.file.Change(ctx, "ingest", func(tx *sql.Tx) error {
		if out, err = put(ctx, tx, s.packer, p, claims, sum); err != nil {
			return err
		}
		return s.keepPlace(ctx, tx, p.Hash, p.Source)
	})
	if err != nil {
		return Stored{}, fmt.Errorf("storing %s: %w", p.Source, err)
	}
	return out, nil
}

func (s *Store) sameReading(ctx context.Context, hash, sum string) (key string, same bool, err error) {
	var old string
	err = s.file.Read().QueryRowContext(ctx, `SELECT key, digest FROM papers WHERE hash = ?`, hash).Scan(&key, &old)
	if errors.Is(err, sql.ErrNoRows) {
		return "", false, nil
	}
	return key, old == sum, explain(err)
}

func put(ctx context.Context, tx *sql.Tx, pk *packed.Packer, p Paper, claims []evidence.Claim, sum string) (Stored, error) {
	out := Stored{Key: p.Key, Change: Added}
	var id int64
	err := tx.QueryRowContext(ctx, `SELECT id, key FROM papers WHERE hash = ?`, p.Hash).Scan(&id, &out.Key)
	switch {
	case err == nil:
		out.Change = Replaced
		err = replacePaper(ctx, tx, id, p, sum)
	case errors.Is(err, sql.ErrNoRows):
		if out.Key, err = freeKey(ctx, tx, p.Key); err != nil {
			return Stored{}, err
		}
		p.Key = out.Key
		id, err = insertPaper(ctx, tx, p, sum)
	}
	if err != nil {
		return Stored{}, err
	}
	p.Key = out.Key
	if err := insertPages(ctx, tx, pk, id, p); err != nil {
		return Stored{}, err
	}
	if err := insertClaims(ctx, tx, id, claims); err != nil {
		return Stored{}, err
	}
	out.Lost, err = reattach(ctx, tx, id, p)
	return out, err
}

// freeKey returns key, or key with the first of a, b … z, aa, ab … behind it
// that no other paper has.
func freeKey(ctx context.Context, tx *sql.Tx, key string) (string, error) {
	try := key
	for n := 1; ; n++ {
		var taken bool
		if err := tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM papers WHERE key = ?)`, try).Scan(&taken); err != nil || !taken {
			return try, err
		}
		try = key + letters(n)
	}
}

// letters counts from 1: a, b … z, aa, ab ….
func letters(n int) string { return reference.Letters(n - 1) }

func paperValues(p Paper, sum string) ([]any, error) {
	authors := p.Authors
	if authors == nil {
		authors = []string{}
	}
	b, err := json.Marshal(authors)
	if err != nil {
		return nil, err
	}
	return []any{p.Source, p.Size, p.Format, p.Lang, p.Engine, p.State, p.Note, p.Ingested.UnixMilli(), p.Reader, p.Rules, sum,
		p.Title, string(b), p.Year, p.Journal, p.Volume, p.Extent, p.DOI, p.Hash}, nil
}

func insertPaper(ctx context.Context, tx *sql.Tx, p Paper, sum string) (int64, error) {
	vals, err := paperValues(p, sum)
	if err != nil {
		return 0, err
	}
	res, err := tx.ExecContext(ctx, `INSERT INTO papers (source, size, format, lang, engine, state, note, ingested, reader, rules, digest,
		title, authors, year, journal, volume, extent, doi, hash, key) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`, append(vals, p.Key)...)
	if err != nil {
		return 0, err
	}
	return res.LastInsertId()
}

// replacePaper writes what was read anew and empties the paper of pages and
// claims. A record that the keeper mended stays.
func replacePaper(ctx context.Context, tx *sql.Tx, id int64, p Paper, sum string) error {
	vals, err := paperValues(p, sum)
	if err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, `UPDATE papers SET source = ?, size = ?, format = ?, lang = ?, engine = ?, state = ?, note = ?,
		ingested = ?, reader = ?, rules = ?, digest = ?,
		title   = CASE edited WHEN 0 THEN ? ELSE title END,
		authors = CASE edited WHEN 0 THEN ? ELSE authors END,
		year    = CASE edited WHEN 0 THEN ? ELSE year END,
		journal = CASE edited WHEN 0 THEN ? ELSE journal END,
		volume  = CASE edited WHEN 0 THEN ? ELSE volume END,
		extent  = CASE edited WHEN 0 THEN ? ELSE extent END,
		doi     = CASE edited WHEN 0 THEN ? ELSE doi END
		WHERE hash = ?`, vals...); err != nil {
		return err
	}
	for _, table := range []string{"pages", "claims", "contexts"} {
		if _, err := tx.ExecContext(ctx, `DELETE FROM `+table+` WHERE paper = ?`, id); err != nil {
			return err
		}
	}
	return nil
}

func insertPages(ctx context.Context, tx *sql.Tx, pk *packed.Packer, paper int64, p Paper) error {
	stmt, err := tx.PrepareContext(ctx, `INSERT INTO pages (paper, number, how, why, text, layout) VALUES (?, ?, ?, ?, ?, ?)`)
	if err != nil {
		return err
	}
	defer stmt.Close()
	for _, page := range p.Pages {
		text, lay, err := pk.Page(page)
		if err != nil {
			return fmt.Errorf("page %d: %w", page.Number, err)
		}
		if _, err := stmt.ExecContext(ctx, paper, page.Number, page.How, page.Why, text, lay); err != nil {
			return fmt.Errorf("page %d: %w", page.Number, err)
		}
	}
	return nil
}
