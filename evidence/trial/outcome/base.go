package outcome

import (
	"hatchlore/evidence"
	"hatchlore/evidence/stat"
	"hatchlore/evidence/trial"
)

// Base sums the treatments of a trial that tell what a later one starts from:
// eggs that got what the later one holds in all dishes and no treatment beside
// it, whether they got that as one of several levels or because all dishes did.
// What is no treatment counts where held names it: eggs at 5 °C say nothing of a
// trial held at 12 °C. ok is false where no dish was so.
func Base(p *trial.Plan, r *Result, held []trial.Fixed) (all stat.Count, ok bool) {
	for _, t := range r.Treatments {
		if asHeld(settingsOf(p, t), settings(held)) {
			all.Hatched, all.Eggs = all.Hatched+t.Hatched, all.Eggs+t.Eggs
		}
	}
	return all, all.Eggs > 0
}

// asHeld reports whether eggs got what is held and are untreated else.
func asHeld(got, held map[evidence.Factor]trial.Setting) bool {
	for _, m := range evidence.Measures() {
		was, told := got[m.Factor]
		none, treats := trial.Untreated(m.Factor)
		want, asked := held[m.Factor]
		if treats && !asked {
			want, asked = none, true
		}
		if treats && !told {
			was, told = none, true
		}
		if asked && told && was != want {
			return false
		}
	}
	return true
}

// settingsOf are all settings that the dishes of a treatment got.
func settingsOf(p *trial.Plan, t TreatmentResult) map[evidence.Factor]trial.Setting {
	got := settings(p.Fixed)
	for _, f := range p.Factors {
		got[f.ID] = t.Levels[string(f.ID)]
	}
	return withColdLength(got)
}

func settings(fixed []trial.Fixed) map[evidence.Factor]trial.Setting {
	out := map[evidence.Factor]trial.Setting{}
	for _, x := range fixed {
		out[x.ID] = x.Setting
	}
	return withColdLength(out)
}

// withColdLength adds the cold-moist period that eggs get where only its
// temperature is spoken of.
func withColdLength(got map[evidence.Factor]trial.Setting) map[evidence.Factor]trial.Setting {
	_, chilled := got[evidence.ColdTemperature]
	if _, told := got[evidence.ColdLength]; chilled && !told {
		got[evidence.ColdLength] = trial.Num(trial.UsualColdDays)
	}
	return got
}
