package store

import (
	"bytes"
	"context"
	"encoding/json"
	"slices"
	"strings"
	"time"

	"hatchlore/evidence/store/disk"
	"hatchlore/evidence/trial"
)

// ParcelLot is a lot with what went into and out of it.
type ParcelLot struct {
	Lot
	Added   time.Time
	Entries []LotEntry
}

// Redacted is the lot without what stays with its keeper: the place in full,
// who collected it and under which permit.
func (l ParcelLot) Redacted() ParcelLot {
	l.Site, l.Collector, l.Permit = "", "", ""
	return l
}

// ParcelTrial is a trial with every look at its dishes, those too that were
// corrected.
type ParcelTrial struct {
	Plan   *trial.Plan
	Made   time.Time
	Closed time.Time // zero while counting goes on
	Keeper string    // see [Trial]; "" for the trial of whoever made the parcel
	Looks  []ParcelLook
}

// HandedOn is the parcel as another keeper may read it. What stays with its keeper
// is left out of the lots, and trials of the keeper's own are told as those of
// keeper, which may be "": whoever reads of an "own trial" takes it for his own.
func (p Parcel) HandedOn(keeper string) Parcel {
	if keeper = plainName(keeper); keeper == "" {
		keeper = AnotherKeeper
	}
	p.Lots, p.Trials, p.Papers = slices.Clone(p.Lots), slices.Clone(p.Trials), slices.Clone(p.Papers)
	for i, l := range p.Lots {
		p.Lots[i] = l.Redacted()
	}
	whose := map[string]ParcelTrial{}
	for i := range p.Trials {
		t := &p.Trials[i]
		if t.Keeper == "" {
			t.Keeper = keeper
		}
		whose[resultHash(t.Plan, t.Made)] = *t
	}
	for i := range p.Papers {
		r := &p.Papers[i]
		if t, ok := whose[r.Hash]; ok && r.Format == FormatTrial && !r.Mended {
			r.Source, r.Authors = sourceOf(t.Keeper), []string{keptAuthor(t.Plan.Trial, t.Keeper)}
		}
	}
	p.Claims = slices.Clone(p.Claims)
	for i := range p.Claims {
		if t, ok := whose[p.Claims[i].Hash]; ok {
			p.Claims[i].Source = sourceOf(t.Keeper)
		}
	}
	return p
}

// plainName is a name as it is cited: "Jo Alder" for "Alder, Jo".
func plainName(name string) string {
	family, given, _ := strings.Cut(name, ",")
	return strings.Join(strings.Fields(given+" "+strings.ReplaceAll(family, ",", " ")), " ")
}

// ParcelLook is one look at a dish. A number that was not written down is nil.
type ParcelLook struct {
	Dish     string    `json:"dish"`
	Day      string    `json:"day"` // ISO 8601, "" for a sum at the end
	Eggs     *int      `json:"eggs"`
	Emerged  *int      `json:"emerged"`
	Hatched  *int      `json:"hatched"`
	Dead     *int      `json:"dead"`
	Note     string    `json:"note"`
	Sheet    string    `json:"sheet"`
	InForce  bool      `json:"in_force"`
	Recorded time.Time `json:"recorded"`
}

// ParcelExperiment is the keeper's word on an experiment, with the papers by
// their content; see [Experiment].
type ParcelExperiment struct {
	Hash   string    `json:"hash"`
	First  string    `json:"first"`
	Reason string    `json:"reason"`
	At     time.Time `json:"at"`
}

func parcelLots(ctx context.Context, q disk.Querier) ([]ParcelLot, error) {
	var out []ParcelLot
	var ids []int64
	err := eachRow(ctx, q, lotQuery+` ORDER BY l.name`, nil, func(scan func(...any) error) error {
		id, l, err := scanLot(scan)
		ids, out = append(ids, id), append(out, ParcelLot{Lot: l})
		return err
	})
	if err != nil {
		return nil, err
	}
	for i, id := range ids {
		var added int64
		if err := q.QueryRowContext(ctx, `SELECT added FROM lots WHERE id = ?`, id).Scan(&added); err != nil {
			return nil, explain(err)
		}
		out[i].Added = time.UnixMilli(added).UTC()
		if out[i].Entries, err = entriesOf(ctx, q, id, out[i].Name); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func entriesOf(ctx context.Context, q disk.Querier, lot int64, name string) ([]LotEntry, error) {
	var out []LotEntry
	err := eachRow(ctx, q, `SELECT eggs, coalesce(trial, ''), reason, entered FROM lot_entries WHERE lot = ? ORDER BY entered, id`, []any{lot}, func(scan func(...any) error) error {
		e := LotEntry{Lot: name}
		var at int64
		err := scan(&e.Eggs, &e.Trial, &e.Reason, &at)
		e.At = time.UnixMilli(at).UTC()
		out = append(out, e)
		return err
	})
	return out, err
}

func parcelTrials(ctx context.Context, q disk.Querier) ([]ParcelTrial, error) {
	var out []ParcelTrial
	err := eachRow(ctx, q, `SELECT plan, made, closed, keeper FROM trials ORDER BY id`, nil, func(scan func(...any) error) error {
		var plan []byte
		var made, closed int64
		var keeper string
		if err := scan(&plan, &made, &closed, &keeper); err != nil {
			return err
		}
		p, err := trial.ReadPlan(bytes.NewReader(plan))
		if err != nil {
			return err
		}
		t := ParcelTrial{Plan: p, Made: time.UnixMilli(made).UTC(), Keeper: keeper}
		if closed != 0 {
			t.Closed = time.UnixMilli(closed).UTC()
		}
		out = append(out, t)
		return nil
	})
	for i := range out {
		if err == nil {
			out[i].Looks, err = parcelLooks(ctx, q, out[i].Plan.Trial)
		}
	}
	return out, err
}

func parcelLooks(ctx context.Context, q disk.Querier, trial string) ([]ParcelLook, error) {
	var out []ParcelLook
	err := eachRow(ctx, q, `SELECT dish, day, eggs, emerged, hatched, dead, note, sheet, latest, recorded FROM looks WHERE trial = ? ORDER BY recorded, dish, day, id`,
		[]any{trial}, func(scan func(...any) error) error {
			var l ParcelLook
			var at int64
			err := scan(&l.Dish, &l.Day, &l.Eggs, &l.Emerged, &l.Hatched, &l.Dead, &l.Note, &l.Sheet, &l.InForce, &at)
			l.Recorded = time.UnixMilli(at).UTC()
			out = append(out, l)
			return err
		})
	return out, err
}

func parcelExperiments(ctx context.Context, q disk.Querier) ([]ParcelExperiment, error) {
	var out []ParcelExperiment
	err := eachRow(ctx, q, `SELECT hash, first, reason, judged FROM experiments ORDER BY hash`, nil, func(scan func(...any) error) error {
		var e ParcelExperiment
		var at int64
		err := scan(&e.Hash, &e.First, &e.Reason, &at)
		e.At = time.UnixMilli(at).UTC()
		out = append(out, e)
		return err
	})
	return out, err
}

// print tells looks apart: two with the same print are one and the same.
func (l ParcelLook) print() string {
	l.InForce, l.Sheet = false, ""
	b, err := json.Marshal(l)
	if err != nil {
		return "" // a look has nothing that JSON cannot hold
	}
	return string(b)
}
