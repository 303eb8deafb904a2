package reason

import (
	"fmt"
	"slices"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/witness"
)

// stages tells papers that count emergence from those on another side that
// count hatching.
func stages(facing [][2]conflict.Side, lib *witness.Shelf) []conflict.Reason {
	var mixes []mix
	for _, two := range facing {
		a, b := own(two[0]), own(two[1])
		for _, pair := range [][2]conflict.Side{{a, b}, {b, a}} {
			m, ok := mixOf(pair[0], pair[1])
			if !ok {
				continue
			}
			if i := slices.IndexFunc(mixes, m.alike); i >= 0 {
				mixes[i].others = append(mixes[i].others, m.others...)
			} else {
				mixes = append(mixes, m)
			}
		}
	}
	var out []conflict.Reason
	for _, m := range mixes {
		others := distinct(m.others)
		out = append(out, conflict.Reason{Kind: conflict.StageMixed, Papers: slices.Concat(m.emerged, others),
			Note: fmt.Sprintf("%s counted emergence, %s %s: an embryo that has emerged has not yet hatched", lib.Cites(m.emerged), lib.Cites(others), m.counts)})
	}
	return out
}

// mix is papers that counted emergence against others that did not.
type mix struct {
	emerged []string
	counts  string // what the others did
	others  []string
}

// alike reports whether two mixes tell the same, of other papers.
func (m mix) alike(o mix) bool { return slices.Equal(o.emerged, m.emerged) && o.counts == m.counts }

// mixOf sets those on one side who counted emergence against another side; ok is
// false where that explains nothing.
func mixOf(side, other conflict.Side) (m mix, ok bool) {
	m = mix{emerged: counting(side, evidence.StageEmergence), counts: "counted hatching", others: other.Leaders()}
	hatching := says(other, evidence.StageHatching)
	switch {
	case len(m.emerged) == 0, len(other.Told) == 0, says(other, evidence.StageEmergence):
		return m, false
	case !hatching && !only(side, evidence.StageEmergence):
		return m, false
	case side.Bearing == evidence.Prevents && other.Bearing != evidence.Prevents:
		return m, false // where none emerged none can have hatched
	case !hatching:
		m.counts = "did not say which"
	}
	return m, true
}

// distinct returns keys in their order, each once.
func distinct(keys []string) []string {
	var out []string
	for _, k := range keys {
		if !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	return out
}

// own is a side without what is only cited there.
func own(s conflict.Side) conflict.Side {
	out := conflict.Side{Bearing: s.Bearing}
	for _, c := range s.Told {
		if c.Secondhand {
			continue
		}
		out.Told = append(out.Told, c)
		if !slices.Contains(out.Papers, c.Paper) {
			out.Papers = append(out.Papers, c.Paper)
		}
	}
	return out
}

// counting returns the leaders of a side who count a stage in all that they
// say there.
func counting(s conflict.Side, stage evidence.Stage) []string {
	return slices.DeleteFunc(s.Leaders(), func(k string) bool {
		return slices.ContainsFunc(s.Told, func(c evidence.Claim) bool { return c.Paper == k && c.Stage != stage })
	})
}

func only(s conflict.Side, stage evidence.Stage) bool {
	return len(s.Told) > 0 && !slices.ContainsFunc(s.Told, func(c evidence.Claim) bool { return c.Stage != stage })
}

func says(s conflict.Side, stage evidence.Stage) bool {
	return slices.ContainsFunc(s.Told, func(c evidence.Claim) bool { return c.Stage == stage })
}
