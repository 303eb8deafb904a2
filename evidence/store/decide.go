package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"hatchlore/evidence"
	"hatchlore/evidence/store/disk"
	"hatchlore/ingest"
)

// HandRule is the rule of a claim that the keeper wrote.
const HandRule = "by-hand"

// Decision is one thing the keeper decided about a claim. Decisions are never
// altered: a later one supersedes it, and an [evidence.Undecided] one
// withdraws what was decided.
type Decision struct {
	ID      int64
	Claim   string // id of the claim it stands on, "" when the reading lost it
	Hash    string // content hash of the paper
	ByHand  bool   // the keeper wrote the claim
	Reading evidence.Claim
	Verdict evidence.Verdict
	Amended *evidence.Claim // of an amendment: the claim as the keeper has it
	Reason  string
	At      time.Time
	Latest  bool // nothing supersedes it
}

// Decide records a verdict on the claim with the given id and returns the
// claim as it now stands. Of d it takes Verdict, Amended, Reason and At (zero:
// now). An amendment changes what the claim says and never where it stands:
// its page, span and quote remain those of the reading.
func (s *Store) Decide(ctx context.Context, id string, d Decision) (evidence.Claim, error) {
	if err := d.check(); err != nil {
		return evidence.Claim{}, fmt.Errorf("deciding on claim %s: %w", id, err)
	}
	var out evidence.Claim
	err := s.file.Change(ctx, "decision", func(tx *sql.Tx) error {
		c, err := findClaim(ctx, tx, id)
		if err != nil {
			return err
		}
		thread, old, err := latestOn(ctx, tx, c)
		if err != nil {
			return err
		}
		if d.Verdict == evidence.Undecided && thread == 0 {
			return fmt.Errorf("claim %s: nothing was decided that could be withdrawn", id)
		}
		d.Claim, d.Hash, d.ByHand, d.Reading = c.ID, c.hash, old.ByHand, old.Reading
		if d.Amended != nil {
			d.Amended = ptr(settle(*d.Amended, c.Claim))
			if problems := d.Amended.Lint(); len(problems) > 0 {
				return fmt.Errorf("claim %s as amended: %s", id, join(problems))
			}
		}
		out = d.inForce()
		if err := record(ctx, tx, thread, d); err != nil {
			return err
		}
		if d.ByHand && d.Verdict == evidence.Undecided {
			return takeOut(ctx, tx, c.paper, c.ID)
		}
		return rewriteClaim(ctx, tx, c.paper, out)
	})
	return out, err
}

func ptr[T any](v T) *T { return &v }

func join(problems []evidence.Problem) string {
	var out []string
	for _, p := range problems {
		out = append(out, p.String())
	}
	return strings.Join(out, "; ")
}

func (d Decision) check() error {
	switch {
	case d.Verdict == evidence.Amended && d.Amended == nil:
		return errors.New("an amendment needs the amended claim")
	case d.Verdict != evidence.Amended && d.Amended != nil:
		return errors.New("only an amendment carries an amended claim")
	}
	switch d.Verdict {
	case evidence.Undecided, evidence.Accepted, evidence.Amended, evidence.Rejected:
		return nil
	}
	return fmt.Errorf("unknown verdict %q", d.Verdict)
}

// settle returns amended with the place and provenance of c.
func settle(amended, c evidence.Claim) evidence.Claim {
	amended.ID, amended.Source, amended.Paper, amended.Page = c.ID, c.Source, c.Paper, c.Page
	amended.Start, amended.End, amended.Quote, amended.Section = c.Start, c.End, c.Quote, c.Section
	amended.Rule, amended.Score, amended.OCR, amended.TwiceRead = c.Rule, c.Score, c.OCR, c.TwiceRead
	amended.Decision = evidence.Amended
	if amended.Cited == c.Cited {
		amended.Entries = c.Entries // an amendment made before its paper was read anew does not know them
	}
	return amended
}

// inForce returns the claim as d has it.
func (d Decision) inForce() evidence.Claim {
	c := d.Reading
	if d.Verdict == evidence.Amended && d.Amended != nil {
		c = settle(*d.Amended, c)
	}
	c.Decision = d.Verdict
	return c
}

// latestOn returns the thread and the last decision on c; thread 0 and the
// claim itself as the reading where there is none.
func latestOn(ctx context.Context, q disk.Querier, c placed) (thread int64, d Decision, err error) {
	rows, err := queryDecisions(ctx, q, `WHERE claim = ? AND hash = ? AND latest = 1`, c.ID, c.hash)
	if err != nil || len(rows) == 0 {
		return 0, Decision{Reading: c.Claim}, err
	}
	return rows[0].thread, rows[0].Decision, nil
}

// jsonRow is the part of a decision that is kept as JSON.
type jsonRow struct {
	reading string
	amended *string
}

func rowOf(d Decision) (jsonRow, error) {
	d.Reading.Decision = evidence.Undecided
	reading, err := json.Marshal(d.Reading)
	if err != nil || d.Amended == nil {
		return jsonRow{reading: string(reading)}, err
	}
	amended, err := json.Marshal(d.Amended)
	return jsonRow{string(reading), ptr(string(amended))}, err
}

// record appends d to a thread, or starts one when thread is 0.
func record(ctx context.Context, tx *sql.Tx, thread int64, d Decision) error {
	if d.At.IsZero() {
		d.At = time.Now()
	}
	r, err := rowOf(d)
	if err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, `UPDATE decisions SET latest = 0 WHERE thread = ?`, thread); err != nil {
		return err
	}
	res, err := tx.ExecContext(ctx, `INSERT INTO decisions (thread, latest, claim, made_on, hash, by_hand, reading, amended, verdict, reason, decided)
		VALUES (?, 1, ?, ?, ?, ?, ?, ?, ?, ?, ?)`, thread, d.Claim, d.Claim, d.Hash, d.ByHand, r.reading, r.amended, d.Verdict, d.Reason, d.At.UnixMilli())
	if err != nil || thread != 0 {
		return err
	}
	id, err := res.LastInsertId()
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, `UPDATE decisions SET thread = id WHERE id = ?`, id)
	return err
}

// AddClaim stores a claim that the keeper found on a page. c needs Paper, Page,
// Quote and what it says; its span is found by the quote, nearest to c.Start.
func (s *Store) AddClaim(ctx context.Context, c evidence.Claim, reason string, at time.Time) (evidence.Claim, error) {
	page, err := s.Page(ctx, c.Paper, c.Page)
	if err != nil {
		return evidence.Claim{}, err
	}
	head, err := s.Head(ctx, c.Paper)
	if err != nil {
		return evidence.Claim{}, err
	}
	if !place(&c, page) {
		return evidence.Claim{}, fmt.Errorf("%s, page %d: the quote is not on the page: copy it exactly as the page has it", c.Paper, c.Page)
	}
	c.Source, c.Rule, c.Score, c.OCR, c.Decision = head.Source, HandRule, 1, page.How == ingest.ByOCR, evidence.Accepted
	c.ID = c.MakeID(head.Hash)
	err = s.file.Change(ctx, "adding a claim", func(tx *sql.Tx) error {
		id, now, err := paperHead(ctx, tx, c.Paper)
		if err != nil {
			return err
		}
		if now.Hash != head.Hash {
			return fmt.Errorf("%s: %w", c.Paper, ErrNoPaper)
		}
		return addByHand(ctx, tx, id, head.Hash, c, reason, at)
	})
	return c, err
}

type threaded struct {
	Decision
	thread int64
	madeOn string
}

func queryDecisions(ctx context.Context, q disk.Querier, where string, args ...any) ([]threaded, error) {
	var out []threaded
	err := eachRow(ctx, q, `SELECT id, thread, made_on, coalesce(claim, ''), hash, by_hand, reading, amended, verdict, reason, decided, latest
		FROM decisions `+where+` ORDER BY latest, decided, id`, args, func(scan func(...any) error) error {
		d, err := scanDecision(scan)
		out = append(out, d)
		return err
	})
	return out, err
}

func scanDecision(scan func(...any) error) (threaded, error) {
	var d threaded
	var reading string
	var amended *string
	var at int64
	if err := scan(&d.ID, &d.thread, &d.madeOn, &d.Claim, &d.Hash, &d.ByHand, &reading, &amended, &d.Verdict, &d.Reason, &at, &d.Latest); err != nil {
		return d, err
	}
	d.At = time.UnixMilli(at).UTC()
	if err := json.Unmarshal([]byte(reading), &d.Reading); err != nil {
		return d, fmt.Errorf("decision %d: %w", d.ID, ErrDamaged)
	}
	if amended == nil {
		return d, nil
	}
	if err := json.Unmarshal([]byte(*amended), &d.Amended); err != nil {
		return d, fmt.Errorf("decision %d: %w", d.ID, ErrDamaged)
	}
	return d, nil
}

// bare drops what only the store needs to know.
func bare(list []threaded, err error) ([]Decision, error) {
	var out []Decision
	for _, d := range list {
		out = append(out, d.Decision)
	}
	return out, err
}

// History returns every decision on the claim with the given id, the first
// one first, over all readings of its paper.
func (s *Store) History(ctx context.Context, id string) ([]Decision, error) {
	return bare(queryDecisions(ctx, s.file.Read(), `WHERE thread IN (SELECT thread FROM decisions WHERE claim = ? UNION SELECT thread FROM decisions WHERE made_on = ?)`, id, id))
}

// Decisions returns every decision ever made, in order.
func (s *Store) Decisions(ctx context.Context) ([]Decision, error) {
	return bare(queryDecisions(ctx, s.file.Read(), ``))
}

// Lost returns the decisions in force whose words are on no page of the
// library: the paper was removed, or a new reading has other words there.
func (s *Store) Lost(ctx context.Context) ([]Decision, error) {
	return bare(queryDecisions(ctx, s.file.Read(), `WHERE latest = 1 AND claim IS NULL AND verdict IN ('accepted', 'amended')`))
}
