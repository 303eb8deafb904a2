package trial

import (
	"fmt"
	"regexp"
	"strings"
)

// labelLetters are signs that a hurried hand keeps apart: no I, 1 or L, no O, 0,
// D or Q, no S or 5, no Z or 2, no B or 8, no G or 6, no U or V, and hardly a
// vowel to spell a word with.
const labelLetters = "ACEFHJKMNPRTWXY3479"

// BlindLabels draws n different labels that say nothing of treatment or order;
// below(k) must draw from 0 to k-1.
// The last sign is a check on the others, so that one sign read wrongly never
// gives another dish's label. It refuses more dishes than there are labels.
func BlindLabels(n int, below func(n int) int) ([]string, error) {
	k := len(labelLetters)
	signs, all := 2, k*k
	for all < 2*n && signs < 5 {
		signs, all = signs+1, all*k
	}
	if n > all {
		return nil, fmt.Errorf("%d dishes are more than there are labels", n)
	}
	seen := map[int]bool{}
	var out []string
	for len(out) < n {
		code := below(all)
		label := labelOf(code, signs)
		if seen[code] || looksOther(label) {
			continue
		}
		seen[code] = true
		out = append(out, label)
	}
	return out, nil
}

// otherKinds are labels that a spreadsheet would take for a number or a date, or a
// reader for the number of a dish: 374, 3E4, 9MAY.
var otherKinds = regexp.MustCompile(`^[0-9]+(E[0-9]+)?$|^[0-9]+(JAN|MAR|APR|MAY)|(JAN|MAR|APR|MAY)[0-9]+$`)

func looksOther(label string) bool { return otherKinds.MatchString(label) }

func labelOf(code, signs int) string {
	k := len(labelLetters)
	var b strings.Builder
	sum := 0
	for range signs {
		d := code % k
		code /= k
		sum += d
		b.WriteByte(labelLetters[d])
	}
	b.WriteByte(labelLetters[sum%k])
	return b.String()
}

// ValidLabel reports whether s can be a label: its last sign agrees with the
// others. A label read with one sign wrong is not valid.
func ValidLabel(s string) bool {
	if len(s) < 3 {
		return false
	}
	sum := 0
	for i := range len(s) - 1 {
		d := strings.IndexByte(labelLetters, s[i])
		if d < 0 {
			return false
		}
		sum += d
	}
	return strings.IndexByte(labelLetters, s[len(s)-1]) == sum%len(labelLetters)
}
