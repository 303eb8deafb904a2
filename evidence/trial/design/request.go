package design

import (
	"errors"
	"fmt"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/bench"
)

// Request is what the keeper has and wants. Only the eggs, one question or
// factor, and the first day or the trigger day are needed; the rest has
// defaults that the plan states.
type Request struct {
	Trial     string            // id; "" makes one from taxon and date
	Taxon     string            //
	Questions []trial.Question  // by priority: the first is settled first
	Factors   []trial.Factor    // by hand, from ParseFactor; they outrank the questions
	Held      []trial.Fixed     // what all dishes share, from ParseHeld; questions about it are left out
	Without   []evidence.Factor // what the keeper cannot set; questions about it are left out

	Eggs     int         // on hand; 0 sums the lots
	Lots     []trial.Lot // or clutches, each a block; nil: one lot without a name
	KeepBack *int        // eggs not to be used; nil keeps a tenth back, at least 10

	Dishes      int // most dishes to look after; 0 is 48
	EggsPerDish int // 0 lets the plan choose between 5 and 50
	Chambers    []trial.Chamber
	Runs        int // chamber runs per temperature; 0 is 1

	Start    trial.Day // first handling day
	Trigger  trial.Day // the day on which all dishes meet the trigger
	LookDays int       // how long to look after the trigger; 0 is 14
	// Incubate is how many days the eggs lie wetted in their chamber before the
	// trigger, for animals whose embryos emerge first and hatch when triggered;
	// emergence is looked for in that time. 0 is a day to settle, and eggs that
	// wetting alone is to trigger stay dry until then.
	Incubate int
	Barred   bench.Barred
	// Forward starts all dishes on the first day, each to meet its trigger when
	// its own treatment is done. Else all dishes of a batch meet it together, and
	// those with shorter treatments start later.
	Forward bool

	BaseFraction float64  // hatched without help; 0 is 0.3
	Rho          *float64 // dish-to-dish correlation; nil is 0.05
	Difference   float64  // smallest difference worth finding; 0 is 0.2

	WhatIf []int // other numbers of eggs to weigh up beside the plan
	Seed   uint64
}

// Defaults that a plan states when it uses them. None has a source: the base
// fraction and correlation are middling values to be replaced by own trials.
const (
	defaultDishes     = 48
	defaultEggsADish  = 10
	fewestEggsADish   = 5
	mostEggsADish     = 50
	defaultBase       = 0.3
	defaultRho        = 0.05
	defaultDifference = 0.2
	defaultLookDays   = 14
	mostDishes        = 500 // more are no keeper's trial, and slow to simulate
	mostLookDays      = 366
	leastKept         = 10
	fewestDishes      = 2 // per treatment, or there is nothing to measure chance by
)

// What a request lacks. How to give it is for whoever asked to say.
var (
	ErrNoEggs = errors.New("a plan needs the number of eggs on hand")
	ErrNoDay  = errors.New("a plan needs its first day or its trigger day")
	ErrNoAim  = errors.New("nothing to try: a plan needs a disagreement to settle, or a factor with its levels")
)

// settled is a request whose gaps are filled; assumed says with what.
type settled struct {
	Request
	rho     float64
	kept    int
	assumed []string
}

func (s *settled) assume(format string, args ...any) {
	s.assumed = append(s.assumed, fmt.Sprintf(format, args...))
}

// settle fills in the defaults and refuses what makes no sense.
func (r Request) settle() (*settled, error) {
	s := &settled{Request: r}
	for _, step := range []func() error{s.settleEggs, s.settleDishes, s.settleOdds, s.settleDays} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	return s, nil
}

func (s *settled) settleEggs() error {
	sum := 0
	for _, l := range s.Lots {
		if l.Eggs < 0 {
			return fmt.Errorf("lot %q has %d eggs", l.Name, l.Eggs)
		}
		sum += l.Eggs
	}
	switch {
	case s.Eggs < 0:
		return fmt.Errorf("%d eggs cannot be on hand", s.Eggs)
	case s.Eggs == 0:
		s.Eggs = sum
	case len(s.Lots) > 0 && s.Eggs > sum:
		return fmt.Errorf("the lots hold %d eggs, not %d: correct the lots or ask for fewer", sum, s.Eggs)
	}
	if s.Eggs == 0 {
		return ErrNoEggs
	}
	if len(s.Lots) == 0 {
		s.Lots = []trial.Lot{{Eggs: s.Eggs}}
	}
	if s.KeepBack == nil {
		s.kept = min(s.Eggs, max(leastKept, (s.Eggs+9)/10))
		s.assume("at least %d of %d eggs are kept back (a tenth, and never under %d)", s.kept, s.Eggs, leastKept)
		return nil
	}
	s.kept = *s.KeepBack
	if s.kept < 0 || s.kept >= s.Eggs {
		return fmt.Errorf("keeping %d of %d eggs back leaves none to try", s.kept, s.Eggs)
	}
	return nil
}

func (s *settled) settleDishes() error {
	if s.Dishes < 0 || s.EggsPerDish < 0 || s.Runs < 0 || s.LookDays < 0 || s.Incubate < 0 {
		return fmt.Errorf("dishes, eggs per dish, runs and days cannot be negative")
	}
	if s.Dishes > mostDishes || s.LookDays > mostLookDays || s.Incubate > mostLookDays {
		return fmt.Errorf("a trial has at most %d dishes and %d days of incubating or looking", mostDishes, mostLookDays)
	}
	if s.Dishes == 0 {
		s.Dishes = defaultDishes
		s.assume("at most %d dishes are looked after", defaultDishes)
	}
	if s.Runs == 0 {
		s.Runs = 1
	}
	for _, c := range s.Chambers {
		if err := c.Check(); err != nil {
			return err
		}
	}
	return nil
}

func (s *settled) settleOdds() error {
	if s.BaseFraction == 0 {
		s.BaseFraction = defaultBase
		s.assume("%.0f %% of eggs hatch without help (a middling value: give your own from earlier trials)", 100*defaultBase)
	}
	s.rho = defaultRho
	if s.Rho != nil {
		s.rho = *s.Rho
	} else {
		s.assume("dishes treated alike differ with a correlation of %v within dishes (a middling value)", defaultRho)
	}
	if s.Difference == 0 {
		s.Difference = defaultDifference
		s.assume("a difference of %.0f per cent points is the smallest worth finding", 100*defaultDifference)
	}
	switch {
	case !(s.BaseFraction > 0 && s.BaseFraction < 1):
		return fmt.Errorf("the base fraction must lie between 0 and 1, not %v", s.BaseFraction)
	case !(s.rho >= 0 && s.rho < 1):
		return fmt.Errorf("the correlation within dishes must lie between 0 and 1, not %v", s.rho)
	case !(s.Difference > 0 && s.Difference < 1):
		return fmt.Errorf("the smallest difference must lie between 0 and 1, not %v", s.Difference)
	}
	return nil
}

func (s *settled) settleDays() error {
	if s.LookDays == 0 {
		s.LookDays = defaultLookDays
		s.assume("hatching is looked for during %d days after the trigger", defaultLookDays)
	}
	if s.Start.IsZero() && s.Trigger.IsZero() {
		return ErrNoDay
	}
	if s.Forward && !s.Trigger.IsZero() {
		return fmt.Errorf("dishes that all start on the first day meet their triggers on different days: give the first day, not the trigger day")
	}
	return nil
}
