package trials

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/design"
	"hatchlore/query"
)

// needEggs refuses a plan for which nobody said how many eggs there are.
func (f *planFlags) needEggs(cmd *cobra.Command, lib *library.Library, req design.Request) error {
	if req.Eggs > 0 || len(f.lots)+len(f.clutches) > 0 {
		return nil
	}
	if lib != nil {
		if lots, err := lib.Store().Lots(cmd.Context()); err != nil || len(lots) > 0 {
			return err
		}
	}
	return errNoEggs(req.Taxon)
}

// drawOnLots gives the request its lots: those named, else, where no number of
// eggs is given, the library's lots of the taxon.
func (f *planFlags) drawOnLots(cmd *cobra.Command, lib *library.Library, req *design.Request) error {
	if err := f.drawOnClutches(cmd, lib, req); err != nil {
		return err
	}
	switch {
	case len(f.lots) > 0:
		for _, s := range f.lots {
			l, err := lotOf(cmd, lib, s)
			if err != nil {
				return err
			}
			req.Lots = append(req.Lots, l)
		}
	case req.Eggs == 0 && len(f.clutches) == 0:
		var err error
		if req.Lots, err = lib.Answers().LotsOf(cmd.Context(), req.Taxon); err != nil {
			return err
		}
		if len(req.Lots) == 0 {
			return errNoEggs(req.Taxon)
		}
	}
	return nil
}

// drawOnClutches adds the clutches named as lots of their own. Those of one lot
// hold no more together than the lot has left.
func (f *planFlags) drawOnClutches(cmd *cobra.Command, lib *library.Library, req *design.Request) error {
	together := map[string]int{}
	for _, s := range f.clutches {
		where, number, _ := strings.Cut(s, "=")
		n, err := strconv.Atoi(strings.TrimSpace(number))
		if err != nil || n < 1 {
			return usage.Errorf("--clutch takes NAME=EGGS or LOT/NAME=EGGS, such as \"moor 3/female 1=30\", not %q", s)
		}
		lot, clutch, inLot := strings.Cut(where, "/")
		if !inLot {
			lot, clutch = "", where
		}
		l := trial.Lot{Name: strings.TrimSpace(lot), Clutch: strings.TrimSpace(clutch), Eggs: n}
		if l.Clutch == "" {
			return usage.Errorf("--clutch %q names no clutch: write LOT/NAME=EGGS", s)
		}
		if l.Name != "" {
			together[l.Name] += n
			if _, err := lotOf(cmd, lib, fmt.Sprintf("%s=%d", l.Name, together[l.Name])); err != nil {
				return err
			}
		}
		req.Lots = append(req.Lots, l)
	}
	return nil
}

func errNoEggs(taxon string) error {
	return usage.Errorf("say how many eggs are on hand: --eggs 240, or enter them with 'hatchlore lot add NAME --taxon %q --eggs 240'", taxon)
}

// lotOf reads NAME or NAME=EGGS. Without a number the library must know the
// lot.
func lotOf(cmd *cobra.Command, lib *library.Library, s string) (trial.Lot, error) {
	name, number, given := strings.Cut(s, "=")
	out := trial.Lot{Name: strings.TrimSpace(name)}
	if given {
		n, err := strconv.Atoi(strings.TrimSpace(number))
		if err != nil || n < 1 {
			return out, usage.Errorf("--lot takes NAME or NAME=EGGS, such as \"moor 3=60\", not %q", s)
		}
		out.Eggs = n
	}
	if lib == nil {
		if !given {
			return out, usage.Errorf("--lot %s: without a library say how many eggs it holds: --lot \"%s=60\"", s, s)
		}
		return out, nil
	}
	l, err := lib.Answers().FromLot(cmd.Context(), out.Name, out.Eggs)
	switch {
	case errors.Is(err, store.ErrNoLot) && given:
		return out, nil
	case errors.Is(err, query.ErrEmptyLot):
		return out, fmt.Errorf("lot %s has no eggs left; 'hatchlore lot edit' enters a new count", out.Name)
	}
	return l, err
}

// tellPromised says which of the lots other trials, not yet counted, will take
// from as well: their eggs leave the lot when the first look is recorded.
func tellPromised(cmd *cobra.Command, lib *library.Library, lots []trial.Lot, own string) error {
	if lib == nil || len(lots) == 0 {
		return nil
	}
	lines, err := lib.Answers().Promised(cmd.Context())
	if err != nil {
		return err
	}
	for _, l := range lots {
		for _, p := range lines[l.Name] {
			if p.Trial == own {
				continue
			}
			terminal.Say(cmd.ErrOrStderr(), "hatchlore: mind: trial %s, not counted yet, has %d eggs of lot %s in its plan; 'hatchlore trial drop' removes a plan", p.Trial, p.Eggs, l.Name)
		}
	}
	return nil
}
