package water

import "fmt"

// Coefficient is the usual rise of conductivity per °C as a share of its value
// at 25 °C (Standard Methods 2510 B, from memory; the reference temperature is
// that of ISO 7888). Meters without a setting of their own use it; some use
// 0.02.
const Coefficient = 0.0191

// At25 returns the conductivity at 25 °C of water that reads k at t °C on a
// meter that does not correct: k/(1+c(t-25)), with c a share per °C.
func At25(k, t, c float64) (float64, error) {
	f, err := factor(k, t, c)
	return k / f, err
}

// Reading returns what such a meter reads at t °C in water of k25 at 25 °C.
func Reading(k25, t, c float64) (float64, error) {
	f, err := factor(k25, t, c)
	return k25 * f, err
}

func factor(k, t, c float64) (float64, error) {
	switch f := 1 + c*(t-25); {
	case !(k >= 0):
		return 1, fmt.Errorf("a conductivity of %v cannot be", k)
	case !(c >= 0 && c <= 0.05):
		return 1, fmt.Errorf("conductivity rises by 0 to 5 %% per °C, not %v %%", 100*c)
	case !(t >= -2 && t <= 40) || f <= 0.3:
		return 1, fmt.Errorf("water of %v °C cannot be corrected to 25 °C: take the reading between 0 and 40 °C", t)
	default:
		return f, nil
	}
}

// standard is the conductivity, µS/cm, of 0.01 mol/kg potassium chloride at
// rising °C (CRC Handbook, after Wu, Koch and Pratt 1991 and Pratt et al. 2001).
var standard = []point{
	{0, 772.92}, {5, 890.96}, {10, 1013.95}, {15, 1141.45}, {18, 1219.93}, {20, 1273.03}, {25, 1408.23}, {30, 1546.63},
}

const standard25 = 1408.23 // at 25 °C

// CorrectionError returns by how much, as a share, [At25] with its usual
// coefficient overstates the conductivity of a potassium chloride standard read
// at t °C: 0.05 at the freezing point. Natural waters err alike, not the same.
// ok is false outside 0 to 30 °C, where the standard is not tabled.
func CorrectionError(t float64) (share float64, ok bool) {
	for i := 1; i < len(standard); i++ {
		a, b := standard[i-1], standard[i]
		if !(t >= a.t && t <= b.t) {
			continue
		}
		k := a.k + (t-a.t)/(b.t-a.t)*(b.k-a.k)
		return k/(1+Coefficient*(t-25))/standard25 - 1, true
	}
	return 0, false
}

// Dissolved solids per conductivity, mg/L for µS/cm at 25 °C: of most natural
// waters (a water-centre handbook), and of all (Hem 1985, USGS Water-Supply
// Paper 2254, from memory).
var (
	UsualSolids = Range{0.55, 0.75}
	AllSolids   = Range{0.54, 0.96}
)

// Solids returns the dissolved solids, mg/L, of water of k25. A paper that
// gives solids without its factor means no more than this.
func Solids(k25 float64) Range { return Range{UsualSolids.Low * k25, UsualSolids.High * k25} }

// FromSolids returns the conductivity at 25 °C that mg/L of dissolved solids
// can stand for.
func FromSolids(mgL float64) Range { return Range{mgL / UsualSolids.High, mgL / UsualSolids.Low} }
