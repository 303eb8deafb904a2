package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"iter"
	"strings"
)

// Listing is one line about a paper, as `papers` prints it.
type Listing struct {
	Paper   string   `json:"paper"`
	Source  string   `json:"source"`
	Title   string   `json:"title"`
	Authors []string `json:"authors"`
	Year    int      `json:"year"` // 0 when unknown
	DOI     string   `json:"doi"`
	Lang    string   `json:"lang"`
	Pages   int      `json:"pages"`
	How     HowRead  `json:"how"`
	Claims  int      `json:"claims"` // without those the keeper rejected
	State   State    `json:"state"`
	Note    string   `json:"note"`

	Format string `json:"-"` // see [Paper]
	Hash   string `json:"-"`
	Digest string `json:"-"` // changes whenever the paper's reading or record does
	Reader string `json:"-"` // version that read it
	Rules  string `json:"-"` // version that matched it
}

// HowRead counts pages by the way they were read.
type HowRead struct {
	Text   int `json:"text"`
	OCR    int `json:"ocr"`
	Unread int `json:"unread"`
}

// Words says which way the pages went, in the words given for the ways: one where
// all went it, else each with its number of pages.
func (h HowRead) Words(text, picture, unread string) string {
	var parts []string
	for _, way := range []struct {
		pages int
		words string
	}{{h.Text, text}, {h.OCR, picture}, {h.Unread, unread}} {
		switch {
		case way.pages == h.Text+h.OCR+h.Unread && way.pages > 0:
			return way.words
		case way.pages > 0:
			parts = append(parts, fmt.Sprintf("%d %s", way.pages, way.words))
		}
	}
	return strings.Join(parts, ", ")
}

// The counts come from indexes alone; no page's text is touched.
const listing = `SELECT p.key, p.source, p.title, p.authors, p.year, p.doi, p.lang, p.state, p.note, p.format, p.hash, p.digest || '.' || p.edited, p.reader, p.rules,
	(SELECT count(*) FROM pages g WHERE g.paper = p.id),
	(SELECT count(*) FROM pages g WHERE g.paper = p.id AND g.how = 'text'),
	(SELECT count(*) FROM pages g WHERE g.paper = p.id AND g.how = 'ocr'),
	(SELECT count(*) FROM pages g WHERE g.paper = p.id AND g.how = 'unread'),
	(SELECT count(*) FROM claims c WHERE c.paper = p.id AND c.decision <> 'rejected')
	FROM papers p`

const (
	listQuery = listing + ` ORDER BY p.key`
	oneQuery  = listing + ` WHERE p.key = ?`
)

// Papers yields a line about each paper, by key, without loading any page. It
// ends at the first error.
func (s *Store) Papers(ctx context.Context) iter.Seq2[Listing, error] {
	return func(yield func(Listing, error) bool) {
		rows, err := s.file.Read().QueryContext(ctx, listQuery)
		if err != nil {
			yield(Listing{}, explain(err))
			return
		}
		defer rows.Close()
		for rows.Next() {
			l, err := scanListing(rows.Scan)
			if !yield(l, explain(err)) || err != nil {
				return
			}
		}
		if err := rows.Err(); err != nil {
			yield(Listing{}, explain(err))
		}
	}
}

// Listing returns the line about one paper.
func (s *Store) Listing(ctx context.Context, key string) (Listing, error) {
	l, err := scanListing(s.file.Read().QueryRowContext(ctx, oneQuery, key).Scan)
	if errors.Is(err, sql.ErrNoRows) {
		return Listing{}, fmt.Errorf("%s: %w", key, ErrNoPaper)
	}
	return l, explain(err)
}

func scanListing(scan func(...any) error) (Listing, error) {
	var l Listing
	var authors string
	err := scan(&l.Paper, &l.Source, &l.Title, &authors, &l.Year, &l.DOI, &l.Lang, &l.State, &l.Note, &l.Format, &l.Hash, &l.Digest, &l.Reader, &l.Rules,
		&l.Pages, &l.How.Text, &l.How.OCR, &l.How.Unread, &l.Claims)
	if err == nil && json.Unmarshal([]byte(authors), &l.Authors) != nil {
		err = fmt.Errorf("authors of %s: %w", l.Paper, ErrDamaged)
	}
	return l, err
}

// Citation is what a paper is cited by.
type Citation struct {
	Key     string
	Source  string
	Authors []string
	Year    int // 0 when unknown
}

// Citations returns what the papers with the given keys are cited by, of those
// that are here.
func (s *Store) Citations(ctx context.Context, keys []string) (map[string]Citation, error) {
	b, err := json.Marshal(keys)
	if err != nil {
		return nil, err
	}
	out := map[string]Citation{}
	err = eachRow(ctx, s.file.Read(), `SELECT key, source, authors, year FROM papers WHERE key IN (SELECT value FROM json_each(?))`, []any{string(b)}, func(scan func(...any) error) error {
		var c Citation
		var authors string
		if err := scan(&c.Key, &c.Source, &authors, &c.Year); err != nil {
			return err
		}
		if json.Unmarshal([]byte(authors), &c.Authors) != nil {
			return fmt.Errorf("authors of %s: %w", c.Key, ErrDamaged)
		}
		out[c.Key] = c
		return nil
	})
	return out, err
}

// Digests returns the digest of every paper by its key: what an index has to
// hold to be in step, without the counts of a listing.
func (s *Store) Digests(ctx context.Context) (map[string]string, error) {
	out := map[string]string{}
	err := eachRow(ctx, s.file.Read(), `SELECT key, digest || '.' || edited FROM papers`, nil, func(scan func(...any) error) error {
		var key, digest string
		err := scan(&key, &digest)
		out[key] = digest
		return err
	})
	return out, err
}

// Counts is the size of a library.
type Counts struct{ Papers, Pages, Claims, Decisions int }

// Counts returns the size of the library; decisions that were superseded or
// withdrawn do not count.
func (s *Store) Counts(ctx context.Context) (Counts, error) {
	var c Counts
	err := s.file.Read().QueryRowContext(ctx, `SELECT (SELECT count(*) FROM papers), (SELECT count(*) FROM pages), (SELECT count(*) FROM claims),
		(SELECT count(*) FROM decisions WHERE latest = 1 AND verdict <> '')`).Scan(&c.Papers, &c.Pages, &c.Claims, &c.Decisions)
	return c, explain(err)
}
