package store

import (
	"context"
	"database/sql"
	"strings"
	"unicode/utf8"

	"hatchlore/evidence"
	"hatchlore/ingest"
)

// reattach carries the keeper's decisions over to the claims of a new reading
// of p, and returns those whose words the new reading no longer has.
//
// A decision finds its claim by id; else by the same words and the same
// statement; an amendment, which says what the words mean whatever the machine
// makes of them, also by the same words and factor. Where the new reading
// makes no such claim but its pages still have the words, an accepted, amended
// or hand-written claim is put back; a rejected one has no need to be.
func reattach(ctx context.Context, tx *sql.Tx, paper int64, p Paper) (lost []int64, err error) {
	decisions, err := queryDecisions(ctx, tx, `WHERE hash = ? AND latest = 1`, p.Hash)
	if err != nil || len(decisions) == 0 {
		return nil, err
	}
	claims, err := selectClaims(ctx, tx, Filter{Paper: p.Key, Rejected: true})
	if err != nil {
		return nil, err
	}
	taken := map[string]bool{}
	for _, d := range decisions {
		now, ok := counterpart(d, claims, taken)
		switch {
		case ok:
			d.Reading = now
		case d.Verdict == evidence.Accepted || d.Verdict == evidence.Amended:
			if d.Reading, ok = putBack(d.Reading, p); !ok {
				lost = append(lost, d.ID)
			} else if taken[d.Reading.ID] {
				ok = false // another decision stands on the same words and statement
			}
		}
		if !ok {
			if _, err := tx.ExecContext(ctx, `UPDATE decisions SET claim = NULL WHERE thread = ?`, d.thread); err != nil {
				return nil, err
			}
			continue
		}
		taken[d.Reading.ID] = true
		if err := stand(ctx, tx, paper, d); err != nil {
			return nil, err
		}
	}
	return lost, nil
}

// stand puts d in force on the claim that is now its reading.
func stand(ctx context.Context, tx *sql.Tx, paper int64, d threaded) error {
	if _, err := tx.ExecContext(ctx, `UPDATE decisions SET claim = ? WHERE thread = ?`, d.Reading.ID, d.thread); err != nil {
		return err
	}
	return rewriteClaim(ctx, tx, paper, d.inForce())
}

// counterpart finds the claim of the new reading that d is about.
func counterpart(d threaded, claims []evidence.Claim, taken map[string]bool) (evidence.Claim, bool) {
	tests := []func(evidence.Claim) bool{
		func(c evidence.Claim) bool { return c.ID == d.Claim || c.ID == d.madeOn },
		func(c evidence.Claim) bool {
			return c.Page == d.Reading.Page && sameWords(c, d) && sameStatement(c, d.Reading)
		},
		func(c evidence.Claim) bool { return sameWords(c, d) && sameStatement(c, d.Reading) },
	}
	if d.Amended != nil {
		tests = append(tests, func(c evidence.Claim) bool { return sameWords(c, d) && sameStatement(c, *d.Amended) })
		same := func(c evidence.Claim) bool {
			return c.Page == d.Reading.Page && sameWords(c, d) && c.Factor == d.Reading.Factor
		}
		// Words that carry a list of values ("10, 15 and 20 °C") do not tell
		// which of them was amended.
		if count(claims, same) == 1 {
			tests = append(tests, same)
		}
	}
	for _, fits := range tests {
		for _, c := range claims {
			if !taken[c.ID] && fits(c) {
				return c, true
			}
		}
	}
	return evidence.Claim{}, false
}

func count(claims []evidence.Claim, test func(evidence.Claim) bool) (n int) {
	for _, c := range claims {
		if test(c) {
			n++
		}
	}
	return n
}

func sameWords(c evidence.Claim, d threaded) bool { return c.Quote == d.Reading.Quote }

// sameStatement compares what two claims say, not where.
func sameStatement(a, b evidence.Claim) bool {
	return a.Taxon == b.Taxon && a.Factor == b.Factor && a.Bearing == b.Bearing && a.Category == b.Category && a.Unit == b.Unit &&
		sameBound(a.Low, b.Low) && sameBound(a.High, b.High)
}

func sameBound(a, b *float64) bool {
	if a == nil || b == nil {
		return a == b
	}
	return *a == *b
}

// putBack finds c's words on the pages of p, on its own page first, and
// returns c at that place with the id that belongs to it.
func putBack(c evidence.Claim, p Paper) (evidence.Claim, bool) {
	for _, same := range []bool{true, false} {
		for _, page := range p.Pages {
			if (page.Number == c.Page) == same && place(&c, page) {
				c.ID = c.MakeID(p.Hash)
				return c, true
			}
		}
	}
	return c, false
}

// place sets c's page and span to where its quote stands on the page, the
// occurrence nearest to c.Start; false when the page does not have it.
func place(c *evidence.Claim, page ingest.Page) bool {
	if c.Quote == "" {
		return false
	}
	length := utf8.RuneCountInString(c.Quote)
	best, from, runes := -1, 0, 0
	for {
		i := strings.Index(page.Text[from:], c.Quote)
		if i < 0 {
			break
		}
		runes += utf8.RuneCountInString(page.Text[from : from+i])
		if best < 0 || abs(runes-c.Start) < abs(best-c.Start) {
			best = runes
		}
		_, step := utf8.DecodeRuneInString(page.Text[from+i:])
		from, runes = from+i+step, runes+1
	}
	if best < 0 {
		return false
	}
	c.Page, c.Start, c.End = page.Number, best, best+length
	return true
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
