package query

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/design"
	"hatchlore/species/conflict"
)

// UnknownDispute reports a disagreement that was named and is not among those
// of its taxon.
type UnknownDispute struct{ Named string }

func (e *UnknownDispute) Error() string {
	return fmt.Sprintf("%q is none of the disagreements on this taxon; they may have changed with the library", e.Named)
}

// NothingToSettle reports that the library holds no disagreement on a taxon
// that a trial could settle.
type NothingToSettle struct{ Taxon string }

func (e *NothingToSettle) Error() string {
	return fmt.Sprintf("the library holds no disagreement about %s that a trial could settle", e.Taxon)
}

// FromLibrary fills in what the library knows of a trial that is asked for: the
// questions, which are the disagreements that settle names by id or by number
// from 1, or all where neither they nor factors by hand are given; and what the
// keeper's own finished trials tell of the eggs, where the request is silent.
// It returns sentences that say what was taken from where.
func (e *Engine) FromLibrary(ctx context.Context, req *design.Request, settle []string) ([]string, error) {
	if len(req.Factors) == 0 || len(settle) > 0 {
		d, err := e.Conflicts(ctx, req.Taxon)
		if err != nil {
			return nil, err
		}
		req.Taxon = d.Taxon
		if req.Questions, err = d.ToSettle(settle); err != nil {
			return nil, err
		}
	}
	held := heldIn(req)
	past, err := e.Past(ctx, req.Taxon, held)
	if err != nil {
		return nil, err
	}
	var out []string
	if past.Base != nil && req.BaseFraction == 0 {
		req.BaseFraction = *past.Base
		help := "without help"
		if slices.ContainsFunc(held, trial.Fixed.Treats) {
			help = "with no more than all dishes get"
		}
		out = append(out, fmt.Sprintf("%.0f %% of eggs hatch %s: %d of %d in %s, with one egg more on either side", 100**past.Base, help,
			past.Counted.Hatched, past.Counted.Eggs, strings.Join(past.BaseBy, ", ")))
	}
	if past.Rho != nil && req.Rho == nil {
		req.Rho = past.Rho
		out = append(out, fmt.Sprintf("dishes treated alike differ with a correlation of %.2g within dishes, by %s and what is usual", *past.Rho, strings.Join(past.RhoBy, ", ")))
	}
	return out, nil
}

// heldIn is what the keeper holds in all dishes: held by name, or a factor with a
// single level.
func heldIn(req *design.Request) []trial.Fixed {
	out := slices.Clone(req.Held)
	for _, f := range req.Factors {
		if len(f.Levels) == 1 {
			out = append(out, trial.Fixed{ID: f.ID, Unit: f.Unit, Setting: f.Levels[0], Why: trial.AsAsked})
		}
	}
	return out
}

// ToSettle returns the questions that a trial is to settle: all, or those named
// by id or by number from 1.
func (d Disputes) ToSettle(settle []string) ([]trial.Question, error) {
	picked := d.Conflicts
	if len(settle) > 0 {
		picked = nil
		for _, s := range settle {
			i := slices.IndexFunc(d.Conflicts, func(c conflict.Conflict) bool { return c.ID == s })
			if n, err := strconv.Atoi(s); err == nil {
				i = n - 1
			}
			if i < 0 || i >= len(d.Conflicts) {
				return nil, &UnknownDispute{s}
			}
			picked = append(picked, d.Conflicts[i])
		}
	}
	questions := Questions(picked)
	if len(questions) == 0 {
		return nil, &NothingToSettle{d.Taxon}
	}
	return questions, nil
}

// LotsOf returns the lots of a taxon that have eggs left.
func (e *Engine) LotsOf(ctx context.Context, taxon string) ([]trial.Lot, error) {
	all, err := e.store.Lots(ctx)
	if err != nil {
		return nil, err
	}
	var out []trial.Lot
	for _, l := range all {
		if strings.EqualFold(l.Taxon, taxon) && l.Left > 0 {
			out = append(out, trial.Lot{Name: l.Name, Eggs: l.Left})
		}
	}
	return out, nil
}

// FromLot returns a number of eggs of one of the library's lots, all that are
// left for 0. It refuses more than are left.
func (e *Engine) FromLot(ctx context.Context, name string, eggs int) (trial.Lot, error) {
	l, err := e.store.Lot(ctx, name)
	switch {
	case err != nil:
		return trial.Lot{}, err
	case l.Left < 1:
		return trial.Lot{}, fmt.Errorf("lot %s: %w", l.Name, ErrEmptyLot)
	case eggs > l.Left:
		return trial.Lot{}, fmt.Errorf("lot %s has %s left, not %d", l.Name, trial.Plural(l.Left, "egg"), eggs)
	case eggs == 0:
		eggs = l.Left
	}
	return trial.Lot{Name: l.Name, Eggs: eggs}, nil
}

// ErrEmptyLot says that a lot has no eggs left.
var ErrEmptyLot = errors.New("it has no eggs left; enter a new count where there are some")
