package timecourse

import (
	"fmt"
	"math"
	"slices"
)

// Series is the newly hatched of one dish or treatment, day by day.
type Series struct {
	Days []float64 // since the trigger, rising
	New  []int     // hatched since the count before
	Eggs int       // set
}

// Check refuses a series that cannot be.
func (s Series) Check() error {
	if len(s.Days) != len(s.New) || len(s.Days) == 0 {
		return fmt.Errorf("%d days with %d counts are no series", len(s.Days), len(s.New))
	}
	sum := 0
	for i, n := range s.New {
		if n < 0 {
			return fmt.Errorf("%d newly hatched on day %v cannot be", n, s.Days[i])
		}
		if i > 0 && s.Days[i] <= s.Days[i-1] {
			return fmt.Errorf("day %v does not come after day %v", s.Days[i], s.Days[i-1])
		}
		sum += n
	}
	if sum > s.Eggs {
		return fmt.Errorf("%d hatched of %d eggs cannot be", sum, s.Eggs)
	}
	return nil
}

// Hatched returns how many hatched in all.
func (s Series) Hatched() int {
	sum := 0
	for _, n := range s.New {
		sum += n
	}
	return sum
}

// The indices below speak of the eggs that hatched and are NaN when none did;
// the final fraction belongs beside them.

// TimeToHalf returns the day by which half of those that hatch had hatched,
// on a straight line between counts, the first of which starts from none on day
// 0 (half is N/2: Farooq and others 2005).
func (s Series) TimeToHalf() float64 { return s.timeTo(float64(s.Hatched()) / 2) }

// TimeToHalfCoolbear is TimeToHalf with half at (N+1)/2 (Coolbear 1984).
func (s Series) TimeToHalfCoolbear() float64 { return s.timeTo(float64(s.Hatched()+1) / 2) }

// timeTo interpolates the day on which h eggs had hatched, for h up to all of
// them.
func (s Series) timeTo(h float64) float64 {
	if s.Hatched() == 0 {
		return math.NaN()
	}
	var before, dayBefore float64
	sum := 0.0
	for i, n := range s.New {
		before, sum = sum, sum+float64(n)
		if sum >= h {
			return dayBefore + (h-before)*(s.Days[i]-dayBefore)/(sum-before)
		}
		dayBefore = s.Days[i]
	}
	return dayBefore
}

// MeanTime returns the mean day of hatching.
func (s Series) MeanTime() float64 {
	var sum float64
	for i, n := range s.New {
		sum += float64(n) * s.Days[i]
	}
	return sum / float64(s.Hatched())
}

// Variance returns the variance of the day of hatching, on N-1.
func (s Series) Variance() float64 {
	mean := s.MeanTime()
	var sum float64
	for i, n := range s.New {
		sum += float64(n) * (s.Days[i] - mean) * (s.Days[i] - mean)
	}
	return sum / float64(s.Hatched()-1)
}

// MeanTimeError returns the standard error of MeanTime, eggs taken as
// independent.
func (s Series) MeanTimeError() float64 { return math.Sqrt(s.Variance() / float64(s.Hatched())) }

// Speed returns the sum of newly hatched over day (Maguire 1962); NaN when a
// count on day 0 hatched.
func (s Series) Speed() float64 {
	if s.Hatched() == 0 {
		return math.NaN()
	}
	var sum float64
	for i, n := range s.New {
		if n > 0 {
			sum += float64(n) / s.Days[i]
		}
	}
	if math.IsInf(sum, 0) {
		return math.NaN()
	}
	return sum
}

// Uncertainty returns the spread of hatching over the days in bits.
func (s Series) Uncertainty() float64 {
	if s.Hatched() == 0 {
		return math.NaN()
	}
	var u float64
	for _, n := range s.New {
		if n > 0 {
			f := float64(n) / float64(s.Hatched())
			u -= f * math.Log2(f)
		}
	}
	return u
}

// Synchrony returns the chance that two of the hatched did so between the same
// two counts.
func (s Series) Synchrony() float64 {
	var pairs float64
	for _, n := range s.New {
		pairs += float64(n) * float64(n-1)
	}
	return pairs / (float64(s.Hatched()) * float64(s.Hatched()-1))
}

// CumulativePercent returns the sum over the counts of the per cent hatched so
// far (Timson 1965).
func (s Series) CumulativePercent() float64 {
	var sum, so float64
	for _, n := range s.New {
		so += float64(n)
		sum += 100 * so / float64(s.Eggs)
	}
	return sum
}

// FirstLast returns the first and last day with a hatch; ok is false when
// nothing hatched.
func (s Series) FirstLast() (first, last float64, ok bool) {
	i := slices.IndexFunc(s.New, func(n int) bool { return n > 0 })
	if i < 0 {
		return 0, 0, false
	}
	j := len(s.New) - 1
	for s.New[j] == 0 {
		j--
	}
	return s.Days[i], s.Days[j], true
}
