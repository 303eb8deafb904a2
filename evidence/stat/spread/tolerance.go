package spread

import (
	"math"
)

// tolerances are the largest ranges of per cent between four and between two
// dishes of 100 that chance explains, for means of 99, 98, ... 51 %; 0 where
// none is given (7 CFR 201.55, US Federal Seed Act regulations; 62 and 52 paired
// with 39 and 49).
var tolerances = map[int][49]int{
	4: {
		5, 6, 7, 8, 9, 10, 10, 11, 11, 12, 12, 13, 13, 14, 14, 14, 15, 15, 15, 16, 16, 16, 17, 17, 17,
		17, 17, 18, 18, 18, 18, 18, 18, 19, 19, 19, 19, 19, 19, 19, 19, 19, 19, 19, 20, 20, 20, 20, 20,
	},
	2: {
		0, 0, 6, 6, 7, 8, 8, 9, 9, 9, 10, 10, 11, 11, 11, 11, 12, 12, 12, 13, 13, 13, 13, 13, 14,
		14, 14, 14, 14, 14, 14, 15, 15, 15, 15, 15, 15, 15, 15, 15, 15, 15, 15, 15, 15, 16, 16, 16, 16,
	},
}

// DishTolerance returns the largest range, in per cent points, between four or
// two dishes of 100 with the given mean that is put down to chance (7 CFR
// 201.55). The rule supposes binomial scatter: it is a flag, not a test. ok is
// false outside 2 to 99 %, for two dishes outside 4 to 97 %, and for other
// numbers of dishes.
func DishTolerance(mean float64, dishes int) (points int, ok bool) {
	m := int(math.Round(mean))
	if m <= 50 {
		m = 101 - m
	}
	if m < 51 || m > 99 {
		return 0, false
	}
	points = tolerances[dishes][99-m]
	return points, points > 0
}
