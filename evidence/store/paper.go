package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"iter"
	"time"

	"hatchlore/evidence"
	"hatchlore/evidence/store/disk"
	"hatchlore/evidence/store/packed"
	"hatchlore/ingest"
)

// State says how far a paper could be read.
type State string

const (
	Whole  State = "whole"   // every page
	Partly State = "partly"  // some pages
	Unread State = "unread"  // none; the note says why
	NoFile State = "no file" // it is known by citation or from another library; there is no file of it here
)

// Paper is one paper as read.
type Paper struct {
	Key      string // citation key, unique in the library
	Hash     string // SHA-256 of the file's bytes, hex
	Source   string // path as the keeper gave it
	Size     int64  // of the file, bytes
	Format   string // "pdf", "txt", "md" or "html"
	Title    string
	Authors  []string // "Family, Given", in the paper's order
	Year     int      // 0 when unknown
	Journal  string
	Volume   string
	Extent   string // its pages in the journal, as printed
	DOI      string
	Lang     string // ISO 639-1, "" when unsure
	Engine   string // what read the file
	Pages    []ingest.Page
	State    State // "" lets Put judge by the pages
	Note     string
	Ingested time.Time // zero lets Put take the present time
	Reader   string    // version of the reader
	Rules    string    // version of the rules
}

// StateOf judges how far pages were read.
func StateOf(pages []ingest.Page) State {
	unread := 0
	for _, p := range pages {
		if p.How == ingest.Unread {
			unread++
		}
	}
	switch {
	case unread == len(pages):
		return Unread
	case unread > 0:
		return Partly
	}
	return Whole
}

// digest identifies a reading: everything of p and its claims but the time.
func digest(p Paper, claims []evidence.Claim) (string, error) {
	p.Ingested = time.Time{}
	h := sha256.New()
	enc := json.NewEncoder(h)
	if err := enc.Encode(p); err != nil {
		return "", err
	}
	if err := enc.Encode(claims); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil))[:32], nil
}

// Has reports whether a file with the given content hash is in the library,
// and the key of its paper.
func (s *Store) Has(ctx context.Context, hash string) (key string, ok bool, err error) {
	err = s.file.Read().QueryRowContext(ctx, `SELECT key FROM papers WHERE hash = ?`, hash).Scan(&key)
	if errors.Is(err, sql.ErrNoRows) {
		return "", false, nil
	}
	return key, err == nil, explain(err)
}

const paperColumns = `id, key, hash, source, size, format, title, authors, year, journal, volume, extent, doi, lang, engine, state, note, ingested, reader, rules`

// Paper returns the paper with the given key and all its pages.
func (s *Store) Paper(ctx context.Context, key string) (Paper, error) {
	tx, err := s.file.Read().BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return Paper{}, explain(err)
	}
	defer tx.Rollback()
	id, p, err := paperHead(ctx, tx, key)
	if err != nil {
		return Paper{}, err
	}
	for page, err := range pagesOf(ctx, tx, id) {
		if err != nil {
			return Paper{}, fmt.Errorf("reading %s: %w", key, err)
		}
		p.Pages = append(p.Pages, page)
	}
	return p, nil
}

// Head returns the paper with the given key without its pages.
func (s *Store) Head(ctx context.Context, key string) (Paper, error) {
	_, p, err := paperHead(ctx, s.file.Read(), key)
	return p, err
}

func paperHead(ctx context.Context, q disk.Querier, key string) (id int64, p Paper, err error) {
	var authors string
	var ingested int64
	err = q.QueryRowContext(ctx, `SELECT `+paperColumns+` FROM papers WHERE key = ?`, key).Scan(
		&id, &p.Key, &p.Hash, &p.Source, &p.Size, &p.Format, &p.Title, &authors, &p.Year, &p.Journal, &p.Volume, &p.Extent, &p.DOI,
		&p.Lang, &p.Engine, &p.State, &p.Note, &ingested, &p.Reader, &p.Rules)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, Paper{}, fmt.Errorf("%s: %w", key, ErrNoPaper)
	}
	if err != nil {
		return 0, Paper{}, explain(err)
	}
	p.Ingested = time.UnixMilli(ingested).UTC()
	if err := json.Unmarshal([]byte(authors), &p.Authors); err != nil {
		return 0, Paper{}, fmt.Errorf("authors of %s: %w", key, ErrDamaged)
	}
	return id, p, nil
}

// Page returns page n of the paper with the given key.
func (s *Store) Page(ctx context.Context, key string, n int) (ingest.Page, error) {
	p := ingest.Page{Number: n}
	var text, lay []byte
	err := s.file.Read().QueryRowContext(ctx, `SELECT how, why, text, layout FROM pages
		WHERE paper = (SELECT id FROM papers WHERE key = ?) AND number = ?`, key, n).Scan(&p.How, &p.Why, &text, &lay)
	if errors.Is(err, sql.ErrNoRows) {
		if _, err := s.Head(ctx, key); err != nil {
			return ingest.Page{}, err
		}
		return ingest.Page{}, fmt.Errorf("%s, page %d: %w", key, n, ErrNoPage)
	}
	if err != nil {
		return ingest.Page{}, explain(err)
	}
	if err := packed.Into(&p, text, lay); err != nil {
		return ingest.Page{}, fmt.Errorf("%s, page %d: %w", key, n, err)
	}
	return p, nil
}

// Pages yields the pages of the paper with the given key in order, one at a
// time. It ends at the first error.
func (s *Store) Pages(ctx context.Context, key string) iter.Seq2[ingest.Page, error] {
	return func(yield func(ingest.Page, error) bool) {
		id, _, err := paperHead(ctx, s.file.Read(), key)
		if err != nil {
			yield(ingest.Page{}, err)
			return
		}
		for p, err := range pagesOf(ctx, s.file.Read(), id) {
			if err != nil {
				err = fmt.Errorf("reading %s: %w", key, err)
			}
			if !yield(p, err) {
				return
			}
		}
	}
}

func pagesOf(ctx context.Context, q disk.Querier, paper int64) iter.Seq2[ingest.Page, error] {
	return func(yield func(ingest.Page, error) bool) {
		rows, err := q.QueryContext(ctx, `SELECT number, how, why, text, layout FROM pages WHERE paper = ? ORDER BY number`, paper)
		if err != nil {
			yield(ingest.Page{}, explain(err))
			return
		}
		defer rows.Close()
		for rows.Next() {
			var p ingest.Page
			var text, lay []byte
			err := rows.Scan(&p.Number, &p.How, &p.Why, &text, &lay)
			if err == nil {
				err = packed.Into(&p, text, lay)
			}
			if !yield(p, explain(err)) || err != nil {
				return
			}
		}
		if err := rows.Err(); err != nil {
			yield(ingest.Page{}, explain(err))
		}
	}
}

// Remove takes a paper, its pages and its claims out of the library. What the
// keeper decided about them stays and is put back when the file comes again.
func (s *Store) Remove(ctx context.Context, key string) error {
	return s.file.Change(ctx, "removing "+key, func(tx *sql.Tx) error {
		_, p, err := paperHead(ctx, tx, key)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `UPDATE decisions SET claim = NULL WHERE hash = ?`, p.Hash); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `DELETE FROM papers WHERE key = ?`, key)
		return err
	})
}
