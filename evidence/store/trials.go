package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"hatchlore/evidence/store/disk"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/outcome"
	"hatchlore/ingest"
)

// Trial is a plan that is kept, with what was counted.
type Trial struct {
	Plan   *trial.Plan
	Counts *counts.Sheet // nil before the first look
	Made   time.Time
	Closed time.Time // when the result was told; zero while counting goes on
	Keeper string    // by what name another keeper goes whose trial it is; "" for the library's own
}

// ErrNoTrial says that there is no such trial.
var ErrNoTrial = errors.New("no such trial in the library: 'hatchlore trial list' lists them")

// KeepTrial stores a plan and returns the id under which it is kept: its own,
// or its own with a number behind it where another plan has that. The same
// plan is kept once.
func (s *Store) KeepTrial(ctx context.Context, p *trial.Plan) (id string, err error) {
	id, same, err := placeFor(ctx, s.file.Read(), *p)
	if err != nil || same {
		return id, err
	}
	err = s.file.Change(ctx, "keeping a plan", func(tx *sql.Tx) error {
		named := *p
		if id, same, err = placeFor(ctx, tx, named); err != nil || same {
			return err
		}
		named.Trial = id
		b, err := json.Marshal(named)
		if err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO trials (id, taxon, plan, made) VALUES (?, ?, ?, ?)`, id, p.Taxon, string(b), time.Now().UnixMilli())
		return err
	})
	return id, err
}

// placeFor returns the id for a plan and whether it is kept there already.
func placeFor(ctx context.Context, q disk.Querier, p trial.Plan) (id string, same bool, err error) {
	base := p.Trial
	for n := 1; ; n++ {
		if n > 1 {
			p.Trial = fmt.Sprintf("%s-%s", base, letters(n-1))
		}
		b, err := json.Marshal(p)
		if err != nil {
			return "", false, err
		}
		var old string
		err = q.QueryRowContext(ctx, `SELECT plan FROM trials WHERE id = ?`, p.Trial).Scan(&old)
		if errors.Is(err, sql.ErrNoRows) {
			return p.Trial, false, nil
		}
		if err != nil || old == string(b) {
			return p.Trial, err == nil, explain(err)
		}
	}
}

// Trial returns the trial with the given id, or the only one whose id begins
// so.
func (s *Store) Trial(ctx context.Context, id string) (Trial, error) {
	return findTrial(ctx, s.file.Read(), id)
}

func findTrial(ctx context.Context, q disk.Querier, id string) (Trial, error) {
	full, err := trialID(ctx, q, id)
	if err != nil {
		return Trial{}, err
	}
	var plan string
	var made, closed int64
	var t Trial
	if err := q.QueryRowContext(ctx, `SELECT plan, made, closed, keeper FROM trials WHERE id = ?`, full).Scan(&plan, &made, &closed, &t.Keeper); err != nil {
		return Trial{}, explain(err)
	}
	t.Made = time.UnixMilli(made).UTC()
	if closed != 0 {
		t.Closed = time.UnixMilli(closed).UTC()
	}
	if t.Plan, err = trial.ReadPlan(strings.NewReader(plan)); err != nil {
		return Trial{}, err
	}
	t.Counts, err = countsOf(ctx, q, full)
	return t, err
}

func trialID(ctx context.Context, q disk.Querier, id string) (string, error) {
	found, err := column(ctx, q, `SELECT id FROM trials WHERE substr(id, 1, length(?1)) = ?1 ORDER BY id`, id)
	switch {
	case err != nil:
		return "", err
	case slices.Contains(found, id) && id != "":
		return id, nil
	case len(found) == 0 || id == "":
		return "", fmt.Errorf("%s: %w", id, ErrNoTrial)
	case len(found) > 1:
		return "", fmt.Errorf("%s could be %s: write it out", id, strings.Join(found, " or "))
	}
	return found[0], nil
}

// Trials returns every trial, the latest made first.
func (s *Store) Trials(ctx context.Context) ([]Trial, error) {
	ids, err := column(ctx, s.file.Read(), `SELECT id FROM trials ORDER BY made DESC, rowid DESC`)
	if err != nil {
		return nil, err
	}
	var out []Trial
	for _, id := range ids {
		t, err := s.Trial(ctx, id)
		if err != nil {
			return nil, err
		}
		out = append(out, t)
	}
	return out, nil
}

// DropTrial removes a trial in which nothing was counted yet, and returns its
// id in full.
func (s *Store) DropTrial(ctx context.Context, id string) (full string, err error) {
	err = s.file.Change(ctx, "dropping a trial", func(tx *sql.Tx) error {
		if full, err = trialID(ctx, tx, id); err != nil {
			return err
		}
		var looks int
		if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM looks WHERE trial = ?`, full).Scan(&looks); err != nil {
			return err
		}
		if looks > 0 {
			return fmt.Errorf("%s has counts, which are kept: a trial is dropped only before its first look", full)
		}
		_, err = tx.ExecContext(ctx, `DELETE FROM trials WHERE id = ?`, full)
		return err
	})
	return full, err
}

// countsOf returns the looks of a trial, each with what it said before; nil
// when there are none.
func countsOf(ctx context.Context, q disk.Querier, id string) (*counts.Sheet, error) {
	type place struct {
		dish string
		day  trial.Day
	}
	was := map[place][]counts.Look{}
	var out *counts.Sheet
	err := eachRow(ctx, q, `SELECT dish, day, eggs, emerged, hatched, dead, note, latest FROM looks WHERE trial = ? ORDER BY id`, []any{id}, func(scan func(...any) error) error {
		l, latest, err := scanLook(scan)
		if err != nil {
			return fmt.Errorf("counts of trial %s: %w", id, explain(err))
		}
		at := place{l.Dish, l.Date}
		if !latest {
			was[at] = append(was[at], l)
			return nil
		}
		if out == nil {
			out = &counts.Sheet{}
		}
		l.Was = was[at]
		out.Looks, out.Factors = append(out.Looks, l), append(out.Factors, nil)
		return nil
	})
	return out, err
}

func scanLook(scan func(...any) error) (l counts.Look, latest bool, err error) {
	var day string
	var eggs, emerged, hatched, dead sql.NullInt64
	if err := scan(&l.Dish, &day, &eggs, &emerged, &hatched, &dead, &l.Note, &latest); err != nil {
		return l, false, err
	}
	if day != "" {
		if l.Date, err = trial.ParseDay(day); err != nil {
			return l, false, err
		}
	}
	for v, to := range map[*sql.NullInt64]*int{&eggs: &l.Eggs, &emerged: &l.Emerged, &hatched: &l.Hatched, &dead: &l.Dead} {
		*to = counts.Unseen
		if v.Valid {
			*to = int(v.Int64)
		}
	}
	return l, latest, nil
}

// Recorded says what came of a sheet of counts.
type Recorded struct {
	Trial     string
	New       int // looks
	Corrected int
	Same      int
	Progress  counts.Progress
	Told      string // citation key of the result in the evidence table, "" while counting goes on
	Claims    int    // that the result makes
}

// RecordCounts adds a sheet of counts to a trial, whole or not at all: the
// looks, the eggs that leave their lots, and, when every dish has had its last
// look or the keeper closes the trial, its result as a first-hand source. sheet
// may be nil to close without more counts; from names the file.
func (s *Store) RecordCounts(ctx context.Context, id string, sheet *counts.Sheet, from string, closing bool) (Recorded, error) {
	var out Recorded
	err := s.file.Change(ctx, "recording counts", func(tx *sql.Tx) error {
		t, err := findTrial(ctx, tx, id)
		if err != nil {
			return err
		}
		now := time.Now()
		out = Recorded{Trial: t.Plan.Trial}
		if sheet != nil {
			all, err := counts.Take(t.Plan, t.Counts, sheet)
			if err != nil {
				return err
			}
			if err := addLooks(ctx, tx, t, all, from, now, &out); err != nil {
				return err
			}
			out.Same = len(sheet.Looks) - out.New - out.Corrected
			t.Counts = all
		}
		if t.Counts == nil {
			return fmt.Errorf("trial %s has no counts to tell of yet", out.Trial)
		}
		if err := spend(ctx, tx, out.Trial, counts.Spent(t.Plan, t.Counts), now); err != nil {
			return err
		}
		out.Progress = counts.ProgressOf(t.Plan, t.Counts)
		if !closing && t.Closed.IsZero() && !out.Progress.Whole() {
			return nil
		}
		return s.tell(ctx, tx, t, now, &out)
	})
	return out, err
}

// addLooks writes the looks of all that t has not got, and marks those that
// they correct.
func addLooks(ctx context.Context, tx *sql.Tx, t Trial, all *counts.Sheet, from string, now time.Time, out *Recorded) error {
	known := 0
	if t.Counts != nil {
		known = len(t.Counts.Looks)
	}
	for i, l := range all.Looks {
		switch {
		case i >= known:
			out.New++
		case len(l.Was) > len(t.Counts.Looks[i].Was):
			out.Corrected++
			if _, err := tx.ExecContext(ctx, `UPDATE looks SET latest = 0 WHERE trial = ? AND dish = ? AND day = ?`, out.Trial, l.Dish, dayText(l.Date)); err != nil {
				return err
			}
		default:
			continue
		}
		if _, err := tx.ExecContext(ctx, `INSERT INTO looks (trial, dish, day, eggs, emerged, hatched, dead, note, sheet, latest, recorded)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, 1, ?)`, out.Trial, l.Dish, dayText(l.Date), seen(l.Eggs), seen(l.Emerged), seen(l.Hatched), seen(l.Dead),
			l.Note, from, now.UnixMilli()); err != nil {
			return err
		}
	}
	return nil
}

func dayText(d trial.Day) string {
	if d.IsZero() {
		return ""
	}
	return d.String()
}

func seen(n int) sql.NullInt64 { return sql.NullInt64{Int64: int64(n), Valid: n != counts.Unseen} }

// tell puts the result of a trial among the papers, as one page of text with
// its claims.
func (s *Store) tell(ctx context.Context, tx *sql.Tx, t Trial, now time.Time, out *Recorded) error {
	report, err := outcome.Tell(t.Plan, t.Counts)
	if err != nil {
		return err
	}
	author, err := authorOf(ctx, tx, t)
	if err != nil {
		return err
	}
	p := Paper{
		Key: out.Trial, Hash: resultHash(t.Plan, t.Made), Source: sourceOf(t.Keeper), Size: int64(len(report.Text)), Format: FormatTrial,
		Title: report.Title, Authors: []string{author}, Year: t.Plan.End.Year, Lang: "en", Engine: "trial",
		Pages: []ingest.Page{{Number: 1, How: ingest.ByText, Text: report.Text, Blocks: resultBlocks(report.Text)}},
		State: Whole, Ingested: now, Reader: ingest.Version,
	}
	old, same := "", false
	mark, err := digest(p, report.Claims)
	if err != nil {
		return err
	}
	err = tx.QueryRowContext(ctx, `SELECT key, digest FROM papers WHERE hash = ?`, p.Hash).Scan(&out.Told, &old)
	switch {
	case err == nil:
		same = old == mark
	case !errors.Is(err, sql.ErrNoRows):
		return err
	}
	if !same {
		stored, err := put(ctx, tx, s.packer, p, report.Claims, mark)
		if err != nil {
			return err
		}
		out.Told = stored.Key
	}
	out.Claims = len(report.Claims)
	if t.Closed.IsZero() {
		_, err = tx.ExecContext(ctx, `UPDATE trials SET closed = ? WHERE id = ?`, now.UnixMilli(), out.Trial)
		return err
	}
	return nil
}

// resultHash stands for the content of a trial's result. Two keepers may have
// trials of one name: what tells them apart is when they were made, which goes
// along when libraries are merged.
func resultHash(p *trial.Plan, made time.Time) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "own trial %d %s %d", made.UnixMilli(), p.Taxon, p.Seed))
	return hex.EncodeToString(sum[:])
}

// sourceOf is the source that a trial's result names in place of a file.
func sourceOf(keeper string) string {
	if keeper == "" {
		return outcome.OwnTrial
	}
	return "trial of " + keeper
}

// ownTrialAuthor is who is cited for the result of a trial of one's own: "Own
// trial 2026".
const ownTrialAuthor = "Own trial"

// AnotherKeeper is cited for the trial of a keeper who gave no name.
const AnotherKeeper = "another keeper"

// keptAuthor is who is cited for the trial of another keeper: "Trial dry of Jo
// Alder 2026". Its id tells it from every other.
func keptAuthor(id, keeper string) string { return "Trial " + id + " of " + keeper }

// authorOf returns who is cited for t. Of several own trials that ended in one year
// the first told is "Own trial", the next "Own trial b", so that no two results
// are taken for one source.
func authorOf(ctx context.Context, tx *sql.Tx, t Trial) (string, error) {
	if t.Keeper != "" {
		return keptAuthor(t.Plan.Trial, t.Keeper), nil
	}
	closed := int64(math.MaxInt64)
	if !t.Closed.IsZero() {
		closed = t.Closed.UnixMilli()
	}
	var before int
	err := tx.QueryRowContext(ctx, `SELECT count(*) FROM trials WHERE id <> ?1 AND keeper = '' AND closed > 0 AND closed <= ?2
		AND substr(json_extract(plan, '$.end'), 1, 4) = ?3
		AND (closed < ?2 OR rowid < (SELECT rowid FROM trials WHERE id = ?1))`,
		t.Plan.Trial, closed, t.Plan.End.String()[:4]).Scan(&before)
	if err != nil {
		return "", explain(err)
	}
	if before == 0 {
		return ownTrialAuthor, nil
	}
	return ownTrialAuthor + " " + letters(before+1), nil
}

// resultBlocks makes each line of a report a paragraph of results.
func resultBlocks(text string) []ingest.Block {
	var out []ingest.Block
	at := 0
	for line := range bytes.Lines([]byte(text)) {
		end := at + len(bytes.TrimRight(line, "\n"))
		if end > at {
			out = append(out, ingest.Block{Kind: ingest.Paragraph, Section: ingest.SectionResults, Start: at, End: end})
		}
		at += len(line)
	}
	return out
}
