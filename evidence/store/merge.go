package store

import (
	"cmp"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/ingest"
)

// Merged says what a [Parcel] added to the library.
type Merged struct {
	Papers, Claims, Decisions, Aliases, Experiments int
	Lots, Entries, Trials, Looks                    int // entries of lots, looks of trials

	// Readings of papers that this library has read itself, and reads
	// otherwise: its own reading stands.
	Left int
	// Names that both libraries read as something else: the later decision
	// stands.
	Clashes []Alias
}

// Any reports whether anything was added.
func (m Merged) Any() bool {
	return m.Papers+m.Claims+m.Decisions+m.Aliases+m.Experiments+m.Lots+m.Entries+m.Trials+m.Looks > 0
}

// elsewhere is the note of a paper whose file is not here.
const elsewhere = "known from another library; its file was not ingested here"

// Merge takes a parcel into the library, all of it or nothing. What is there
// already stays as it is; merging the same parcel again adds nothing.
//
// Papers are known by their content hash. One that is new is kept without its
// text until its file is ingested. Claims of a paper that this library has read
// itself are not taken over, for they would be a second reading beside its own;
// decisions on them are, and find their claim as after a new reading. Where both
// keepers decided on one claim the later decision is in force, and the history
// has both.
func (s *Store) Merge(ctx context.Context, p Parcel) (Merged, error) {
	var out Merged
	err := s.file.Change(ctx, "import", func(tx *sql.Tx) error {
		m := &merger{ctx: ctx, tx: tx, store: s, papers: map[string]shelved{}, lots: map[string]string{}, lotIDs: map[string]int64{}, trials: map[string]string{}}
		// Trials go first: one that is closed tells its own result, which is
		// then known already when it comes among the papers.
		for _, step := range []func(Parcel) error{m.takeLots, m.takeTrials, m.takePapers, m.takeClaims, m.takeDecisions, m.takeAliases, m.takeExperiments} {
			if err := step(p); err != nil {
				return err
			}
		}
		err := m.leaveEmptied()
		out = m.Merged
		return err
	})
	return out, err
}

// leaveEmptied takes out the sources of which the parcel leaves no claim.
func (m *merger) leaveEmptied() error {
	for _, at := range m.papers {
		dropped, err := dropEmptied(m.ctx, m.tx, at.id)
		if err != nil {
			return err
		}
		if dropped && !at.kept {
			m.Papers--
		}
	}
	return nil
}

// merger is one merge under way.
type merger struct {
	Merged
	ctx    context.Context
	tx     *sql.Tx
	store  *Store
	papers map[string]shelved // by hash
	lots   map[string]string  // the parcel's names → those here
	lotIDs map[string]int64   // by the parcel's names
	trials map[string]string  // the parcel's ids → those here
}

// shelved is a paper of the parcel as it stands in the library.
type shelved struct {
	id   int64
	key  string
	kept bool // it was here before
	read bool // from a file, by this library itself
	cite bool // known by citation: its pages grow with what is typed from it
}

func (m *merger) takePapers(p Parcel) error {
	for _, in := range p.Papers {
		if in.Hash == "" || in.Key == "" {
			return fmt.Errorf("a paper of the parcel has no hash or no key: %s", in.Source)
		}
		at, err := m.paper(in)
		if err != nil {
			return fmt.Errorf("%s: %w", in.Key, err)
		}
		at.cite = in.Format == FormatCited
		m.papers[in.Hash] = at
	}
	return nil
}

func (m *merger) paper(in ParcelPaper) (shelved, error) {
	var at shelved
	var pages, edited int
	err := m.tx.QueryRowContext(m.ctx, `SELECT id, key, edited, (SELECT count(*) FROM pages WHERE paper = papers.id) FROM papers WHERE hash = ?`, in.Hash).Scan(&at.id, &at.key, &edited, &pages)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return m.newPaper(in)
	case err != nil:
		return at, err
	}
	at.kept, at.read = true, pages > 0 && (!in.typed() || in.Format == FormatTrial)
	if in.Mended && edited == 0 {
		err = m.mend(at.id, in)
	}
	return at, err
}

func (m *merger) newPaper(in ParcelPaper) (at shelved, err error) {
	p := in.Paper
	// Without a reader's version the file is read when it is ingested here.
	p.State, p.Note, p.Reader, p.Rules = NoFile, elsewhere, "", ""
	if in.typed() {
		p.Note = ""
	}
	if at.key, err = freeKey(m.ctx, m.tx, p.Key); err != nil {
		return at, err
	}
	p.Key = at.key
	if at.id, err = insertPaper(m.ctx, m.tx, p, ""); err != nil {
		return at, err
	}
	for _, page := range p.Pages {
		if err := putCitedPage(m.ctx, m.tx, m.store.packer, at.id, page); err != nil {
			return at, err
		}
	}
	if in.Mended {
		_, err = m.tx.ExecContext(m.ctx, `UPDATE papers SET edited = 1 WHERE id = ?`, at.id)
	}
	m.Papers++
	return at, err
}

// mend takes over a record that the other keeper put right.
func (m *merger) mend(id int64, in ParcelPaper) error {
	vals, err := paperValues(in.Paper, "")
	if err != nil {
		return err
	}
	record := append(slices.Clone(vals[11:18]), id) // title to DOI
	_, err = m.tx.ExecContext(m.ctx, `UPDATE papers SET title = ?, authors = ?, year = ?, journal = ?, volume = ?, extent = ?, doi = ?, edited = 1 WHERE id = ?`, record...)
	return err
}

func (m *merger) takeClaims(p Parcel) error {
	readings := map[string]evidence.Claim{} // of claims that were amended, by hash and id
	for _, d := range p.Decisions {
		if d.Latest && d.Claim != "" {
			readings[d.Hash+" "+d.Claim] = d.Reading
		}
	}
	for _, in := range p.Claims {
		at, ok := m.papers[in.Hash]
		if !ok {
			return fmt.Errorf("claim %s is of a paper that the parcel lacks", in.ID)
		}
		c := in.Claim
		if r, decided := readings[in.Hash+" "+in.ID]; decided {
			c = r
			c.ID = in.ID
		}
		if c.ID == "" || c.Quote == "" {
			return fmt.Errorf("%s, page %d: a claim without id or quote", at.key, c.Page)
		}
		if err := m.claim(at, in, c); err != nil {
			return fmt.Errorf("claim %s: %w", in.ID, err)
		}
	}
	return nil
}

func (m *merger) claim(at shelved, in ParcelClaim, c evidence.Claim) error {
	var here bool
	if err := m.tx.QueryRowContext(m.ctx, `SELECT EXISTS (SELECT 1 FROM claims WHERE id = ? AND paper = ?)`, c.ID, at.id).Scan(&here); err != nil || here {
		return cmp.Or(err, m.entriesOf(at, c))
	}
	if at.read {
		if c.Rule != HandRule && in.Decision == evidence.Undecided {
			m.Left++ // else the decision on it brings it, or finds its like
		}
		return nil
	}
	if at.cite && at.kept {
		var err error
		id := c.ID
		if c, err = addWords(m.ctx, m.tx, m.store.packer, at.id, in.Hash, c); err != nil {
			return err
		}
		c.ID = id
	}
	if err := insertClaims(m.ctx, m.tx, at.id, []evidence.Claim{c}); err != nil {
		return err
	}
	m.Claims++
	_, err := m.tx.ExecContext(m.ctx, `INSERT OR REPLACE INTO contexts (paper, claim, prefix, suffix) VALUES (?, ?, ?, ?)`, at.id, c.ID, in.Before, in.Behind)
	return err
}

// entriesOf gives a claim that is here what the parcel's reading knows of its
// source, where it was read before entries were.
func (m *merger) entriesOf(at shelved, c evidence.Claim) error {
	if len(c.Entries) == 0 || at.read {
		return nil
	}
	b, err := json.Marshal(c.Entries)
	if err != nil {
		return err
	}
	_, err = m.tx.ExecContext(m.ctx, `UPDATE claims SET entries = ? WHERE id = ? AND paper = ? AND cited = ? AND entries = ''`, string(b), c.ID, at.id, c.Cited)
	return err
}

// takeDecisions takes the decisions thread by thread.
func (m *merger) takeDecisions(p Parcel) error {
	for start := 0; start < len(p.Decisions); {
		end := start + 1
		for end < len(p.Decisions) && p.Decisions[end].Thread == p.Decisions[start].Thread && p.Decisions[end].Hash == p.Decisions[start].Hash {
			end++
		}
		if err := m.thread(p.Decisions[start:end]); err != nil {
			return fmt.Errorf("decisions on claim %s: %w", p.Decisions[start].MadeOn, err)
		}
		start = end
	}
	return nil
}

func (m *merger) thread(in []ParcelDecision) error {
	for _, d := range in {
		if d.Hash == "" || d.MadeOn == "" || d.At.IsZero() {
			return fmt.Errorf("one is of no paper or no claim, or was never made")
		}
		if err := d.check(); err != nil {
			return err
		}
	}
	link := in[len(in)-1].Claim
	local, err := m.localThread(in, link)
	if err != nil {
		return err
	}
	have := map[string]bool{}
	thread := int64(0)
	for _, d := range local {
		thread = d.thread
		have[ParcelDecision{Decision: d.Decision, MadeOn: d.madeOn}.stamp()] = true
	}
	added := 0
	for _, d := range in {
		if have[d.stamp()] {
			continue
		}
		if thread, err = m.insert(thread, d); err != nil {
			return err
		}
		added++
	}
	if m.Decisions += added; added == 0 {
		return nil
	}
	return m.settle(thread, link, len(local) > 0)
}

// stamp tells decisions apart across libraries, in which one paper's claims
// may bear another key.
func (d ParcelDecision) stamp() string {
	if d.Amended != nil {
		a := *d.Amended
		a.Source, a.Paper = "", ""
		d.Amended = &a
	}
	return d.print()
}

// localThread returns the decisions that are here already on the claim that in
// is about: those of a thread that shares one with it, else of one that stands
// on the same claim.
func (m *merger) localThread(in []ParcelDecision, link string) ([]threaded, error) {
	all, err := queryDecisions(m.ctx, m.tx, `WHERE hash = ?`, in[0].Hash)
	if err != nil {
		return nil, err
	}
	stamps := map[string]bool{}
	for _, d := range in {
		stamps[d.stamp()] = true
	}
	find := func(fits func(threaded) bool) []threaded {
		i := slices.IndexFunc(all, fits)
		if i < 0 {
			return nil
		}
		return slices.DeleteFunc(slices.Clone(all), func(d threaded) bool { return d.thread != all[i].thread })
	}
	if t := find(func(d threaded) bool { return stamps[ParcelDecision{Decision: d.Decision, MadeOn: d.madeOn}.stamp()] }); t != nil {
		return t, nil
	}
	return find(func(d threaded) bool { return d.Latest && link != "" && d.Claim == link }), nil
}

// insert appends a decision to a thread, or starts one when thread is 0. Which
// decision is in force is settled afterwards.
func (m *merger) insert(thread int64, d ParcelDecision) (int64, error) {
	r, err := rowOf(d.Decision)
	if err != nil {
		return 0, err
	}
	res, err := m.tx.ExecContext(m.ctx, `INSERT INTO decisions (thread, latest, claim, made_on, hash, by_hand, reading, amended, verdict, reason, decided)
		VALUES (?, 0, NULL, ?, ?, ?, ?, ?, ?, ?, ?)`, thread, d.MadeOn, d.Hash, d.ByHand, r.reading, r.amended, d.Verdict, d.Reason, d.At.UnixMilli())
	if err != nil || thread != 0 {
		return thread, err
	}
	if thread, err = res.LastInsertId(); err != nil {
		return 0, err
	}
	_, err = m.tx.ExecContext(m.ctx, `UPDATE decisions SET thread = id WHERE id = ?`, thread)
	return thread, err
}

// settle puts the last decision of a thread in force on its claim.
func (m *merger) settle(thread int64, link string, local bool) error {
	if _, err := m.tx.ExecContext(m.ctx, `UPDATE decisions SET latest = (id = (SELECT id FROM decisions WHERE thread = ?1 ORDER BY decided DESC, id DESC LIMIT 1)) WHERE thread = ?1`, thread); err != nil {
		return err
	}
	all, err := queryDecisions(m.ctx, m.tx, `WHERE thread = ?`, thread)
	if err != nil {
		return err
	}
	last := all[len(all)-1]
	at, ok := m.papers[last.Hash]
	if !ok {
		return nil // of a paper that neither library has: the decision waits for it
	}
	if local {
		for _, d := range all {
			if d.Claim != "" {
				link = d.Claim
			}
		}
	}
	reading, ok, err := m.reading(at, last, link)
	if err != nil || !ok {
		return err
	}
	last.Reading = reading
	if last.ByHand && last.Verdict == evidence.Undecided {
		if err := takeOut(m.ctx, m.tx, at.id, reading.ID); err != nil {
			return err
		}
		_, err := m.tx.ExecContext(m.ctx, `UPDATE decisions SET claim = ? WHERE thread = ?`, reading.ID, thread)
		return err
	}
	return stand(m.ctx, m.tx, at.id, last)
}

// reading finds the claim that a thread's last decision is about, as it was
// read: by the id it is linked to, else, in a paper that this library has read
// itself, as after a new reading.
func (m *merger) reading(at shelved, last threaded, link string) (evidence.Claim, bool, error) {
	claims, err := selectClaims(m.ctx, m.tx, Filter{Paper: at.key, Rejected: true})
	if err != nil {
		return evidence.Claim{}, false, err
	}
	if i := slices.IndexFunc(claims, func(c evidence.Claim) bool { return link != "" && c.ID == link }); i >= 0 {
		r := last.Reading
		r.ID, r.Page, r.Start, r.End = claims[i].ID, claims[i].Page, claims[i].Start, claims[i].End
		return r, true, nil
	}
	if last.ByHand && last.Verdict == evidence.Undecided {
		r := last.Reading
		return r, r.ID != "", nil
	}
	if !at.read {
		return evidence.Claim{}, false, nil
	}
	taken := map[string]bool{}
	for _, c := range claims {
		taken[c.ID] = c.Decision != evidence.Undecided // another thread stands on it
	}
	if c, ok := counterpart(last, claims, taken); ok {
		return c, true, nil
	}
	if last.Verdict != evidence.Accepted && last.Verdict != evidence.Amended {
		return evidence.Claim{}, false, nil
	}
	pages, err := m.pages(at)
	if err != nil {
		return evidence.Claim{}, false, err
	}
	c, ok := putBack(last.Reading, Paper{Hash: last.Hash, Pages: pages})
	return c, ok && !taken[c.ID], nil
}

func (m *merger) pages(at shelved) ([]ingest.Page, error) {
	var out []ingest.Page
	for page, err := range pagesOf(m.ctx, m.tx, at.id) {
		if err != nil {
			return nil, err
		}
		out = append(out, page)
	}
	return out, nil
}

func (m *merger) takeAliases(p Parcel) error {
	here, err := selectAliases(m.ctx, m.tx)
	if err != nil {
		return err
	}
	for _, a := range p.Aliases {
		if strings.TrimSpace(a.Old) == "" || strings.TrimSpace(a.New) == "" {
			return fmt.Errorf("a name of the parcel is read as nothing, or nothing as a name: %q as %q", a.Old, a.New)
		}
		i := slices.IndexFunc(here, func(b Alias) bool { return strings.EqualFold(b.Old, a.Old) })
		if i >= 0 {
			if !strings.EqualFold(here[i].New, a.New) {
				m.Clashes = append(m.Clashes, a)
			}
			if !a.At.After(here[i].At) {
				continue
			}
		}
		if err := putAlias(m.ctx, m.tx, a); err != nil {
			return err
		}
		m.Aliases++
	}
	return nil
}
