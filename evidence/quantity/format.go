package quantity

import (
	"math"
	"strconv"
)

// Format prints a value with its unit as the trade writes it: "4 °C", "60 µS/cm",
// "41.7 %". Values are rounded to four figures, which is more than a keeper can
// set and less than a conversion pretends.
func Format(value float64, unit Unit) string { return withUnit(number(value), unit) }

// FormatRange prints an item: "10–15 °C", "≥ 30 d" when High is nil, "≤ 80 %"
// when Low is nil, "" when both are.
func FormatRange(low, high *float64, unit Unit) string {
	switch {
	case low == nil && high == nil:
		return ""
	case high == nil:
		return "≥ " + Format(*low, unit)
	case low == nil:
		return "≤ " + Format(*high, unit)
	}
	a, b := number(*low), number(*high)
	if a == b {
		return withUnit(a, unit)
	}
	if *low < 0 || *high < 0 {
		return withUnit(a+" to "+b, unit)
	}
	return withUnit(a+"–"+b, unit)
}

func withUnit(number string, unit Unit) string {
	p := string(unit)
	if u, ok := units[unit]; ok {
		p = u.print
	}
	if p == "" {
		return number
	}
	return number + " " + p
}

func number(v float64) string {
	if a := math.Abs(v); a >= 1000 && a < 1e15 {
		v = math.Round(v)
		return minus(strconv.FormatFloat(v, 'f', -1, 64))
	}
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
	if err != nil {
		r = v
	}
	return minus(strconv.FormatFloat(r, 'g', -1, 64))
}

// minus prints a true minus sign, which a line break does not tear off.
func minus(s string) string {
	if s != "" && s[0] == '-' {
		return "−" + s[1:]
	}
	return s
}
