package lexicon

import "slices"

// Lang is the language by its ISO 639-1 code.
func (l *Lexicon) Lang() string { return l.lang }

// Common lists the frequent words, folded; they tell the language of a text.
func (l *Lexicon) Common() []string {
	var out []string
	for w := range l.common {
		out = append(out, w)
	}
	return out
}

// IsCommon reports whether w, as printed, is a frequent word.
func (l *Lexicon) IsCommon(w string) bool { return l.common[Fold(w)] }

// IsAbbreviation reports whether a full stop behind w ends no sentence.
func (l *Lexicon) IsAbbreviation(w string) bool { return l.abbreviations[Fold(w)] }

// IsCounted reports whether a number with a full stop before w is an ordinal.
func (l *Lexicon) IsCounted(w string) bool { return l.counted[Fold(w)] }

// Classes lists the classes of the phrases in the order of the file.
func (l *Lexicon) Classes() []string {
	seen := map[string]bool{}
	var out []string
	for _, p := range l.phrases {
		if !seen[p.class] {
			seen[p.class] = true
			out = append(out, p.class)
		}
	}
	return out
}

// Singles lists the phrases of one word in a class, folded.
func (l *Lexicon) Singles(class string) []string {
	var out []string
	for _, p := range l.phrases {
		if w := p.words[0]; p.class == class && len(p.words) == 1 && !w.prefix && !w.tail && !w.number {
			out = append(out, w.text)
		}
	}
	return out
}

// Occurring lists the phrases, by their number, that match somewhere in ws,
// whether hidden or not.
func (l *Lexicon) Occurring(ws []Word) []int {
	var out []int
	for id, p := range l.phrases {
		for at := range ws {
			if matchAt(p.words, ws, at) > 0 {
				out = append(out, id)
				break
			}
		}
	}
	return out
}

// Less is the lexicon without the phrases that drop names by their number.
func (l *Lexicon) Less(drop func(id int) bool) *Lexicon {
	less := *l
	kept := func(ids []int) []int { return slices.DeleteFunc(slices.Clone(ids), drop) }
	less.exact, less.stems, less.loose = map[string][]int{}, map[string][]int{}, kept(l.loose)
	for w, ids := range l.exact {
		less.exact[w] = kept(ids)
	}
	for w, ids := range l.stems {
		less.stems[w] = kept(ids)
	}
	return &less
}
