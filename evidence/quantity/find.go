package quantity

// Find returns the quantities of text in the order in which they stand. They
// do not overlap. Text may be a sentence or a page; what surrounds a number
// decides what it means, so a whole sentence reads better than a scrap of it.
//
// The time taken grows linearly with the text: every look to the side is
// bounded.
func Find(text string) []Quantity {
	p := &page{text: text, toks: tokenize(text), lx: words()}
	p.splitCompounds()
	var out []Quantity
	var firsts []int  // first token of each quantity
	var waiting []int // the last few numbers that may take a later unit
	for i := 0; i < len(p.toks); {
		q, next := p.quantityAt(i)
		if q == nil && next > i {
			q, next = p.elided(i, next, out, firsts)
		}
		if q == nil && next <= i {
			q, next = p.ordinalElided(i, out, firsts)
		}
		if q == nil && next > i && p.waits(i) {
			waiting = append(waiting[max(0, len(waiting)-7):], i)
		}
		if next <= i {
			i++
			continue
		}
		if q != nil {
			if len(waiting) > 0 && (q.Kind == Temperature || q.Kind == Duration) {
				out, firsts = p.lendBack(out, firsts, waiting, q, i)
				if q.Kind == Temperature {
					waiting = p.othersWait(waiting, i)
				}
			}
			out = append(out, *q)
			firsts = append(firsts, i)
			if r, end := p.rangeBehind(q, next); r != nil {
				out = append(out, *r)
				firsts = append(firsts, next)
				next = end
			}
		}
		i = next
	}
	return out
}

// quantityAt reads the quantity that starts at token i and returns the token
// after it, i when there is none. A nil quantity with a later token means that
// these tokens are a number of no use.
func (p *page) quantityAt(i int) (*Quantity, int) {
	if t := p.toks[i]; t.kind != figure && !p.lx.opens[t.key] {
		return nil, i
	}
	for _, read := range []func(int) (*Quantity, int){p.lightCycle, p.parts, p.counts, p.clock, p.ordinal, p.chain, p.implied} {
		if q, next := read(i); next > i {
			return q, next
		}
	}
	return nil, i
}

// make builds a quantity whose span runs from token first up to, not
// including, token end.
func (p *page) make(first, end int, kind Kind, unit Unit, items []Item) *Quantity {
	s, e := p.toks[first].start, p.toks[end-1].end
	for _, it := range items {
		s, e = min(s, it.Start), max(e, it.End)
	}
	return &Quantity{Start: s, End: e, Text: p.text[s:e], Kind: kind, Unit: unit, Items: items}
}

// cueNear reports whether a phrase of role r stands within n tokens of token i,
// in the same sentence.
func (p *page) cueNear(i int, r role, n int) bool { return p.cueDistance(i, i, r, n) >= 0 }

// cueDistance returns how many tokens lie between the tokens from first to
// last and the nearest phrase of role r in the same sentence: 0 when it is among
// them, -1 when none stands within n.
func (p *page) cueDistance(first, last int, r role, n int) int {
	best := -1
	for j := first; j <= last; j++ {
		if _, m := p.at(j, r); m > 0 {
			return 0
		}
	}
	for k := 1; k <= n; k++ {
		j := first - k
		if j < 0 || p.ends(j) {
			break
		}
		if _, m := p.at(j, r); m > 0 && j+m <= first {
			best = k
			break
		}
	}
	for k := 1; k <= n && (best < 0 || k < best); k++ {
		j := last + k
		if j >= len(p.toks) || p.ends(j) {
			break
		}
		if _, m := p.at(j, r); m > 0 {
			return k
		}
	}
	return best
}

// ends reports whether token j ends a sentence: a stop with a capital or an
// empty line after it.
func (p *page) ends(j int) bool {
	switch p.toks[j].kind {
	case gap:
		return true
	case mark:
		if k := p.toks[j].key; k != "." && k != "?" && k != "!" {
			return false
		}
		if j+1 >= len(p.toks) || p.toks[j+1].kind == gap {
			return true
		}
		return p.toks[j+1].kind == word && !p.toks[j+1].glued && p.sentenceStarts(j+1) && !(p.is(j-1, word) && len(p.raw(j-1)) < 3)
	}
	return false
}
