package wording

import (
	"fmt"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
)

// Verdict says what a decision did; of an amendment, what it changed.
func Verdict(d store.Decision) string {
	switch {
	case d.Verdict == evidence.Undecided:
		return "taken back"
	case d.ByHand && d.Verdict == evidence.Accepted:
		return "added by hand"
	case d.Amended == nil:
		return string(d.Verdict)
	}
	return "amended: " + strings.Join(changes(d.Reading, *d.Amended), "; ")
}

// changes lists what an amendment says otherwise than the reading.
func changes(was, now evidence.Claim) []string {
	var out []string
	for _, x := range []struct{ name, was, now string }{
		{"value", ClaimValue(was), ClaimValue(now)},
		{"factor", was.Factor.Label(), now.Factor.Label()},
		{"bearing", string(was.Bearing), string(now.Bearing)},
		{"species", was.Taxon, now.Taxon},
		{"stage", orUnsaid(string(was.Stage)), orUnsaid(string(now.Stage))},
		{"cited from", orUnsaid(was.CitedSource()), orUnsaid(now.CitedSource())},
	} {
		if x.was != x.now {
			out = append(out, fmt.Sprintf("%s %s, was %s", x.name, x.now, x.was))
		}
	}
	if len(out) == 0 {
		return []string{"as it was read"}
	}
	return out
}

func orUnsaid(s string) string {
	if s == "" {
		return "unsaid"
	}
	return s
}
