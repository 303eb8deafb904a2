package water

import (
	"fmt"
	"math"
	"math/bits"
)

// Source is one of the waters of a blend.
type Source struct {
	Name         string
	Conductivity float64 // µS/cm at 25 °C
	Hardness     *Range  // mg/L as CaCO3; nil when unknown
}

// Blend is waters in parts that sum to 1.
type Blend struct {
	Parts        []float64 // of the sources, in their order
	Conductivity float64
	Reach        Range  // of conductivity, that the sources can make
	Solids       Range  // mg/L, see Solids
	Hardness     *Range // mg/L as CaCO3; nil when that of a source in it is unknown
}

// mostSources bounds a blend: its parts are sought among all subsets.
const mostSources = 10

// strong is the conductivity above which salts hinder each other's ions so much
// that halving the water does not halve the reading (rule of thumb, no source;
// diluted tenfold, 0.1 mol/kg potassium chloride of 12824.6 µS/cm reads 1408.2).
const strong = 2000

// Strong reports whether a source is so salty that the parts are a start only:
// mix, measure, correct.
func Strong(sources []Source) bool {
	for _, s := range sources {
		if s.Conductivity > strong {
			return true
		}
	}
	return false
}

// Mix returns the parts of two or more waters for a target conductivity, by
// mass balance: conductivity of dilute waters adds up by volume. Two waters
// have one answer; of the many of three or more it is the one with the parts
// most alike. A target that the waters cannot reach is refused, with what they
// can.
func Mix(sources []Source, target float64) (Blend, error) {
	reach, err := Reach(sources)
	if err != nil {
		return Blend{}, err
	}
	if !(target >= reach.Low && target <= reach.High) {
		return Blend{}, fmt.Errorf("these waters reach %v to %v µS/cm, not %v: add a water beyond it", reach.Low, reach.High, target)
	}
	var best []float64
	least := math.Inf(1)
	for set := uint(1); set < 1<<len(sources); set++ {
		parts, ok := evenest(sources, target, set)
		if spread := norm(parts); ok && spread < least-1e-12 {
			best, least = parts, spread
		}
	}
	return blendOf(sources, best, reach), nil
}

// Reach returns the conductivities that the waters can make. Waters that are too
// few or too many for a blend, and a conductivity that cannot be, are refused.
func Reach(sources []Source) (Range, error) {
	if len(sources) < 2 || len(sources) > mostSources {
		return Range{}, fmt.Errorf("a blend takes 2 to %d waters, not %d", mostSources, len(sources))
	}
	r := Range{math.Inf(1), math.Inf(-1)}
	for _, s := range sources {
		if !(s.Conductivity >= 0) || math.IsInf(s.Conductivity, 1) {
			return Range{}, fmt.Errorf("%s: a conductivity of %v cannot be", s.Name, s.Conductivity)
		}
		r.Low, r.High = min(r.Low, s.Conductivity), max(r.High, s.Conductivity)
	}
	return r, nil
}

// evenest returns the parts of the sources in set, most alike, that make the
// target: those of least sum of squares under both sums (Lagrange). ok is false
// where one of them would be below 0 or the set cannot make it.
func evenest(sources []Source, target float64, set uint) (parts []float64, ok bool) {
	n, c1, c2 := float64(bits.OnesCount(set)), 0.0, 0.0
	for i, s := range sources {
		if set&(1<<i) != 0 {
			c1 += s.Conductivity
			c2 += s.Conductivity * s.Conductivity
		}
	}
	mean := c1 / n
	spread := c2/n - mean*mean
	slope := 0.0
	switch {
	case spread > 1e-12*(1+mean*mean):
		slope = (target - mean) / (n * spread)
	case math.Abs(target-mean) > 1e-9*(1+mean):
		return nil, false
	}
	parts = make([]float64, len(sources))
	for i, s := range sources {
		if set&(1<<i) == 0 {
			continue
		}
		parts[i] = 1/n + slope*(s.Conductivity-mean)
		if parts[i] < -1e-12 {
			return nil, false
		}
		parts[i] = max(0, parts[i])
	}
	return parts, true
}

func norm(parts []float64) (sum float64) {
	for _, p := range parts {
		sum += p * p
	}
	return sum
}

func blendOf(sources []Source, parts []float64, reach Range) Blend {
	b := Blend{Parts: parts, Reach: reach, Hardness: &Range{}}
	for i, s := range sources {
		b.Conductivity += parts[i] * s.Conductivity
		switch {
		case parts[i] == 0 || b.Hardness == nil:
		case s.Hardness == nil:
			b.Hardness = nil
		default:
			b.Hardness.Low += parts[i] * s.Hardness.Low
			b.Hardness.High += parts[i] * s.Hardness.High
		}
	}
	b.Solids = Solids(b.Conductivity)
	return b
}
