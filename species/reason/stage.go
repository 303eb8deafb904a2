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
	type mix struct {
		emerged []string
		counts  string
		others  []string
	}
	var mixes []*mix
	for _, two := range facing {
		a, b := own(two[0]), own(two[1])
		for _, pair := range [][2]conflict.Side{{a, b}, {b, a}} {
			emerged, other := counting(pair[0], evidence.StageEmergence), pair[1]
			if len(emerged) == 0 || len(other.Told) == 0 || says(other, evidence.StageEmergence) || !only(pair[0], evidence.StageEmergence) && !says(other, evidence.StageHatching) {
				continue
			}
			if pair[0].Bearing == evidence.Prevents && other.Bearing != evidence.Prevents {
				continue // where none emerged none can have hatched
			}
			m := &mix{emerged: emerged, counts: "counted hatching"}
			if !says(other, evidence.StageHatching) {
				m.counts = "did not say which"
			}
			if i := slices.IndexFunc(mixes, func(o *mix) bool { return slices.Equal(o.emerged, m.emerged) && o.counts == m.counts }); i >= 0 {
				m = mixes[i]
			} else {
				mixes = append(mixes, m)
			}
			for _, k := range other.Leaders() {
				if !slices.Contains(m.others, k) {
					m.others = append(m.others, k)
				}
			}
		}
	}
	var out []conflict.Reason
	for _, m := range mixes {
		out = append(out, conflict.Reason{Kind: conflict.StageMixed, Papers: slices.Concat(m.emerged, m.others),
			Note: fmt.Sprintf("%s counted emergence, %s %s: an embryo that has emerged has not yet hatched", lib.Cites(m.emerged), lib.Cites(m.others), m.counts)})
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
