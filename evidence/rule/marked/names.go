package marked

import (
	"strings"

	"hatchlore/evidence/rule/lexicon"
	"hatchlore/species/name"
)

// groupNames joins names that are listed together: parted by nothing but a
// comma, "and" or a bracket.
func groupNames(text string, ws []lexicon.Word, names []name.Name, aside func(word int) bool) []*NameList {
	var out []*NameList
	at := func(b int) int {
		for i, w := range ws {
			if w.End > b {
				return i
			}
		}
		return len(ws)
	}
	for _, n := range names {
		if n.Rank == name.Group || everyday(n) {
			continue
		}
		from, to := at(n.Start), at(n.AuthorEnd)
		if to < from {
			to = from
		}
		if to < len(ws) && ws[to].Start < n.End {
			to++
		}
		if len(out) > 0 {
			last := out[len(out)-1]
			if listed(text[last.End:n.Start], names) {
				last.Names, last.End, last.To = append(last.Names, n), n.End, to
				continue
			}
		}
		g := &NameList{Span: Span{n.Start, n.End}, From: from, To: to, Names: []name.Name{n}}
		g.Aside = aside != nil && aside(from)
		out = append(out, g)
	}
	return out
}

// everyday reports whether a name is an everyday word inflected from a genus
// ("artemias", "Daphnien") rather than the genus itself or its customary
// shortening ("nothos"): such a word names no taxon that a claim could be about.
func everyday(n name.Name) bool {
	if !n.Common || n.Rank != name.Genus {
		return false
	}
	printed, genus := lexicon.Fold(n.Printed), lexicon.Fold(n.Genus)
	return printed != genus && strings.HasPrefix(printed, genus[:len(genus)-1])
}

// listed reports whether what stands between two names only joins them; names
// of higher groups may introduce the parts of a list ("; Sididae: ").
func listed(between string, names []name.Name) bool {
	if len(between) > 60 {
		return false
	}
	for _, n := range names {
		if n.Rank == name.Group {
			between = strings.ReplaceAll(between, n.Printed+":", ",")
			between = strings.ReplaceAll(between, n.Printed+" ", "")
		}
	}
	if strings.ContainsAny(between, ".:()") || strings.Contains(between, ";") && strings.Trim(between, "; ,") != "" {
		return false
	}
	ws := lexicon.Words(between, 0, len(between))
	for i, w := range ws {
		if !joining[w.Fold] && !(i > 0 && i == len(ws)-1 && joining[ws[0].Fold]) {
			return false
		}
	}
	return len(ws) <= 4
}

// joining are the words that may stand between the names of a list, beside
// one adjective ("and of the parthenogenetic").
var joining = map[string]bool{"and": true, "or": true, "und": true, "oder": true, "et": true, "ou": true, "y": true, "e": true,

	"o": true, "u": true, "ed": true, "i": true, "of": true, "von": true, "de": true, "di": true, "the": true}

// isAside returns a test for a word that a cue of the classes stands right
// before, or two words before.
func (s *Sentence) isAside(beside Bits) func(int) bool {
	return func(word int) bool {
		for _, g := range s.Tags {
			if beside.Has(g.Class) && g.To <= word && word-g.To <= 1 {
				return true
			}
		}
		return false
	}
}
