package bench

import (
	"fmt"
	"maps"
	"slices"
	"time"

	"hatchlore/evidence/trial"
)

// Timing says when the dishes of a plan are to be handled.
type Timing struct {
	Start    trial.Day       // first handling day; the trial starts on it or soon after
	Trigger  trial.Day       // of the first batch; else as early as Start allows
	LookDays int             // how long to look after the trigger
	Incubate int             // days wetted in the chamber before the trigger; 0: only a day to settle
	Chambers []trial.Chamber // nil: those that the plan names, and wherever it is cold
	Forward  bool            // all dishes of a batch start on one day rather than meet their trigger on one
	Barred   Barred
}

// Schedule dates the steps of every dish and run of a plan that has dishes and
// runs. With the trigger day given it works backwards; with the first day given
// the longest treatment starts on it, or as soon after as keeps every handling
// step off the barred days; where no day does, some treatments last a little
// longer. It returns what it had to suppose, and what a keeper
// must know. Its errors say which day would do.
func Schedule(p *trial.Plan, t Timing) (assumed, warnings []string, err error) {
	s := scheduler{Timing: t, plan: p}
	for _, d := range p.Dishes {
		s.recipes = append(s.recipes, recipeOf(p, d, t.Incubate))
	}
	s.assumed = unsaid(s.recipes)
	offsets := s.triggerOffsets()
	handling := s.handlingDays(offsets)
	lead := -handling[0]
	anchor, err := s.triggerDay(handling, lead, offsets)
	if err != nil {
		return nil, nil, err
	}
	p.Start, p.End, p.Trigger = trial.Day{}, anchor, trial.Day{}
	for i := range p.Dishes {
		d := &p.Dishes[i]
		run := &p.Runs[d.Run-1]
		trigger := anchor.Add(offsets[i])
		run.Trigger = earliest(run.Trigger, trigger)
		p.Trigger = earliest(p.Trigger, trigger)
		d.Steps = s.steps(i, trigger)
		p.Start = earliest(p.Start, d.SetOut())
		if last := d.Steps[len(d.Steps)-1].Date; p.End.Before(last) {
			p.End = last
		}
	}
	warnings = s.findCold()
	for i := range p.Dishes {
		p.Dishes[i].Steps = s.steps(i, p.Dishes[i].Trigger())
	}
	return s.assumed, warnings, nil
}

// steps dates dish i.
func (s *scheduler) steps(i int, trigger trial.Day) []trial.Step {
	run := s.plan.Runs[s.plan.Dishes[i].Run-1]
	return s.Barred.moveLooks(s.recipes[i].steps(run, trigger, s.LookDays))
}

// scheduler is a timing at work on a plan.
type scheduler struct {
	Timing
	plan    *trial.Plan
	recipes []recipe // of each dish
	assumed []string
}

// batch returns the batch of dish i, from 0.
func (s *scheduler) batch(i int) int { return s.plan.Runs[s.plan.Dishes[i].Run-1].Batch - 1 }

// triggerOffsets returns each dish's trigger day, counted from the first trigger
// or, where all dishes start together, from the first day. A batch waits until
// the chambers of the one before are free and clean.
func (s *scheduler) triggerOffsets() []int {
	between, longest := s.LookDays+cleaningDays+max(settleDays, s.Incubate), 0
	for _, r := range s.recipes {
		longest = max(longest, r.length())
	}
	out := make([]int, len(s.recipes))
	for i, r := range s.recipes {
		out[i] = s.batch(i) * between
		if s.Forward {
			out[i] = s.batch(i)*(longest+s.LookDays+cleaningDays) + r.length()
		}
	}
	return out
}

// earliest returns the earlier of two days; a, when zero, is no day yet.
func earliest(a, b trial.Day) trial.Day {
	if a.IsZero() || b.Before(a) {
		return b
	}
	return a
}

// handlingDays returns the days, counted as the offsets are, on which some dish
// is handled, in rising order. A last look that another batch waits for is among
// them: it cannot be put off.
func (s *scheduler) handlingDays(offsets []int) []int {
	zero := trial.Day{Year: 2000, Month: time.January, Date: 1}
	last := s.plan.Runs[len(s.plan.Runs)-1].Batch - 1
	days := map[int]bool{}
	for i, r := range s.recipes {
		for _, step := range r.steps(trial.Run{}, zero.Add(offsets[i]), 1) {
			if step.Act != trial.ActLook {
				days[step.Date.Since(zero)] = true
			}
		}
		if s.batch(i) < last {
			days[offsets[i]+s.LookDays] = true
		}
	}
	return slices.Sorted(maps.Keys(days))
}

// searchDays is how far a free trigger day is looked for.
const searchDays = 60

// triggerDay finds the first trigger's day.
func (s *scheduler) triggerDay(handling []int, lead int, offsets []int) (trial.Day, error) {
	free := func(d trial.Day) bool {
		return !slices.ContainsFunc(handling, func(n int) bool { return s.Barred.Bars(d.Add(n)) })
	}
	if !s.Trigger.IsZero() {
		return s.askedTrigger(free, lead, offsets)
	}
	for n := range searchDays {
		if d := s.Start.Add(lead + n); free(d) {
			if n > 0 {
				s.assumed = append(s.assumed, fmt.Sprintf("the trial starts %s after the first day given, so that no handling falls on a barred day", trial.Plural(n, "day")))
			}
			return d, nil
		}
	}
	for n := range searchDays {
		if d := s.Start.Add(lead + n); s.stretchTo(d, offsets) {
			return d, nil
		}
	}
	return trial.Day{}, fmt.Errorf("no start within %d days keeps all handling off the barred days: bar fewer days, or choose lengths that differ by whole weeks", searchDays)
}

// askedTrigger takes the trigger day that was asked for, or says which would do.
func (s *scheduler) askedTrigger(free func(trial.Day) bool, lead int, offsets []int) (trial.Day, error) {
	if !s.Start.IsZero() && s.Trigger.Since(s.Start) < lead {
		return trial.Day{}, fmt.Errorf("the longest treatment takes %d days, so the trigger day can be %s at the earliest: move it or leave a level out",
			lead, s.Start.Add(lead))
	}
	if free(s.Trigger) || s.stretchTo(s.Trigger, offsets) {
		return s.Trigger, nil
	}
	hint := "choose another trigger day"
	for n := 1; n <= searchDays; n++ {
		if d := s.Trigger.Add(n); free(d) {
			hint = fmt.Sprintf("%s would do", d)
			break
		}
	}
	return trial.Day{}, fmt.Errorf("with the trigger on %s some dish must be handled on a barred day: %s", s.Trigger, hint)
}
