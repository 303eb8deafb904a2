package outcome

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"hatchlore/evidence"
	"hatchlore/evidence/stat"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/verdict"
)

// OwnTrial is the source that claims from a keeper's own trial name. Whose trial
// it is stands nowhere in the text: a parcel takes that to other keepers.
const OwnTrial = "own trial"

// Report is a trial told as a page of text with the claims that it makes, so
// that it can stand in the evidence table beside the papers. Each claim's quote
// is a sentence of the text.
type Report struct {
	Title  string
	Text   string
	Claims []evidence.Claim
}

// Tell tells the result of counts of the plan. A level favours hatching where
// some of its eggs hatched for sure, prevents it where hardly any can have, and
// is merely reported else; of a treatment that untreated eggs can be compared
// with, the claim says whether it was required, helpful or harmful. What is told
// and what is claimed go by the intervals of the verdicts. It is first-hand and
// speaks of hatching.
func Tell(p *trial.Plan, c *counts.Sheet) (Report, error) {
	r, err := Weigh(p, c, WeighOptions{})
	if err != nil {
		return Report{}, err
	}
	dishes, err := counts.Dishes(p, c)
	if err != nil {
		return Report{}, err
	}
	w := &reporter{plan: p, dishes: len(dishes), judged: caseOf(p, dishes, r.tooAlike), used: map[string]bool{}}
	w.text.WriteString(w.opening(r))
	for i, f := range p.Factors {
		for _, l := range f.AllLevels() {
			w.level(i, l)
		}
	}
	for _, v := range r.Verdicts {
		fmt.Fprintf(&w.text, "%s: %s is %s (%s).\n", w.question(v.Conflict), v.Side, v.Verdict, v.Why)
	}
	return Report{Title: w.title(), Text: w.text.String(), Claims: w.claims}, nil
}

// reporter writes the text and notes where each claim stands in it.
type reporter struct {
	plan   *trial.Plan
	dishes int
	judged verdict.Case
	text   strings.Builder
	claims []evidence.Claim
	used   map[string]bool // ids
}

// question names a question of the plan by what it is about.
func (w *reporter) question(id string) string {
	i := slices.IndexFunc(w.plan.Questions, func(q trial.Question) bool { return q.ID == id })
	if i < 0 {
		return "On " + id
	}
	return "On " + w.plan.Questions[i].Factor.Label()
}

func (w *reporter) title() string { return fmt.Sprintf("Trial %s, %s", w.plan.Trial, w.plan.Taxon) }

func (w *reporter) opening(r *Result) string {
	eggs, hatched := 0, 0
	for _, t := range r.Treatments {
		eggs, hatched = eggs+t.Eggs, hatched+t.Hatched
	}
	from := ""
	if lots := w.plan.Lots(); len(lots) > 0 {
		from = " from lot " + strings.Join(lots, ", ")
	}
	return fmt.Sprintf("%s. %d of %d eggs%s hatched in %s; trigger on %s.\n", w.title(), hatched, eggs, from, trial.Plural(w.dishes, "dish"), w.plan.Trigger)
}

// level writes the sentence of one level of factor i and its claim.
func (w *reporter) level(i int, l trial.Setting) {
	f := w.plan.Factors[i]
	all, dishes := w.judged.Count(i, []trial.Setting{l})
	if dishes == 0 {
		return
	}
	printed := l.In(f.Unit)
	sentence := fmt.Sprintf("With %s %s, %d of %d eggs hatched (%.0f %%, %.3g %% interval %s, for dishes that differ) in %s.",
		f.ID.Label(), printed, all.Hatched, all.Eggs, 100*all.Fraction(), 100*w.judged.Level(), spanWords(w.judged.Fraction(i, []trial.Setting{l})), trial.Plural(dishes, "dish"))
	start := utf8.RuneCountInString(w.text.String())
	w.text.WriteString(sentence + "\n")
	c := evidence.Claim{Source: OwnTrial, Paper: w.plan.Trial, Page: 1, Start: start, End: start + utf8.RuneCountInString(sentence),
		Quote: sentence, Section: "results", Taxon: w.plan.Taxon, TaxonPrinted: w.plan.Taxon, Stage: evidence.StageHatching,
		Factor: f.ID, Rule: "trial", Score: 1}
	if !w.value(&c, i, l) {
		return
	}
	c.ID = c.MakeID("trial " + w.plan.Trial)
	if !w.used[c.ID] {
		w.used[c.ID] = true
		w.claims = append(w.claims, c)
	}
}

// value fills in what the claim says; false where there is no claim to make.
func (w *reporter) value(c *evidence.Claim, i int, l trial.Setting) bool {
	f := w.plan.Factors[i]
	m, _ := evidence.MeasureOf(f.ID)
	c.Bearing = w.bearing(i, l)
	none, handled := trial.Untreated(f.ID)
	needs := slices.Contains(m.Categories, "not-required")
	if l.Category == "" {
		v := l.Number
		c.Low, c.High, c.Unit, c.Printed = &v, &v, f.Unit, l.In(f.Unit)
	} else if slices.Contains(m.Categories, l.Category) || f.ID == evidence.Light {
		c.Category = l.Category
	}
	if needs && l == none {
		return w.bare(c, i)
	}
	if handled && needs && slices.Contains(f.AllLevels(), none) {
		w.treated(c, i, l, none)
	}
	return true
}

// bearing is what a level did to hatching. That none hatched in the only chamber
// run of a temperature, or anywhere, is no more than reported.
func (w *reporter) bearing(i int, levels ...trial.Setting) evidence.Bearing {
	span := w.judged.Fraction(i, levels)
	switch {
	case verdict.SomeHatch(span):
		return evidence.Favours
	case verdict.NoneHatch(span) && !w.plan.OnePlace(w.plan.Factors[i], levels) && w.judged.HatchesElsewhere(i, levels):
		return evidence.Prevents
	}
	return evidence.Reported
}

// bare says what came of eggs that were spared a treatment: where they hatched
// it is not required, and where only the treated hatched it is. Else a number
// stands for itself, and a word has nothing to say.
func (w *reporter) bare(c *evidence.Claim, i int) bool {
	f := w.plan.Factors[i]
	none, _ := trial.Untreated(f.ID)
	treated := slices.DeleteFunc(slices.Clone(f.Levels), func(l trial.Setting) bool { return l == none })
	switch {
	case c.Bearing == evidence.Favours:
		c.Category, c.Bearing = "not-required", evidence.Indifferent
	case c.Bearing == evidence.Prevents && w.bearing(i, treated...) == evidence.Favours:
		c.Category, c.Bearing = "required", evidence.Favours
	default:
		return none.Category == ""
	}
	c.Low, c.High, c.Unit, c.Printed = nil, nil, "", ""
	return true
}

// treated adds the need for a treatment where the dishes tell it.
func (w *reporter) treated(c *evidence.Claim, i int, l, none trial.Setting) {
	gain := w.judged.Contrast(i, []trial.Setting{none}, []trial.Setting{l})
	switch {
	case !gain.Tested:
	case gain.Interval.High < 0:
		c.Category, c.Bearing = "harmful", evidence.Prevents
	case gain.Interval.Low > 0 && verdict.NoneHatch(w.judged.Fraction(i, []trial.Setting{none})):
		c.Category = "required"
	case gain.Interval.Low > 0:
		c.Category = "helpful"
	}
}

func spanWords(i stat.Interval) string { return fmt.Sprintf("%.0f to %.0f %%", 100*i.Low, 100*i.High) }
