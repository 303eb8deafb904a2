package taxonomy

import (
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/species/name"
)

// Selection is the claims on one taxon.
type Selection struct {
	Taxon    string           // current name
	Claims   []evidence.Claim // on it, its subspecies, its synonyms; of a genus on all its species
	Borrowed []evidence.Claim // of congeners, when asked for
}

// Taxa returns the names that claims bear, as printed, sorted.
func Taxa(claims []evidence.Claim) []string {
	seen := map[string]bool{}
	var out []string
	for _, c := range claims {
		if c.Taxon != "" && !seen[c.Taxon] {
			seen[c.Taxon] = true
			out = append(out, c.Taxon)
		}
	}
	slices.Sort(out)
	return out
}

// Select returns the claims on the taxon asked for, which may be shortened
// ("T. longicaudatus", "longicaudatus"), in small letters, an everyday word or
// an old name. With borrow set a species also gets the claims of its
// congeners, apart. A name without claims is an [Unknown], a shortened one that fits several an
// [Ambiguous].
func Select(claims []evidence.Claim, asked string, names *Names, borrow bool) (Selection, error) {
	taxon, err := Resolve(Taxa(claims), asked, names)
	if err != nil {
		return Selection{}, err
	}
	s := Selection{Taxon: taxon}
	current := map[string]string{}
	for _, c := range claims {
		now, ok := current[c.Taxon]
		if !ok {
			now = names.Current(c.Taxon)
			current[c.Taxon] = now
		}
		switch {
		case now == "":
		case covers(taxon, now):
			s.Claims = append(s.Claims, c)
		case borrow && !isGenus(taxon) && Fold(genusOf(now)) == Fold(genusOf(taxon)):
			s.Borrowed = append(s.Borrowed, c)
		}
	}
	return s, nil
}

// Speaking returns those of taxa, as printed, that [Select] takes claims of for
// the current name taxon.
func Speaking(taxa []string, taxon string, names *Names, borrow bool) []string {
	var out []string
	for _, t := range taxa {
		now := names.Current(t)
		if covers(taxon, now) || borrow && !isGenus(taxon) && now != "" && Fold(genusOf(now)) == Fold(genusOf(taxon)) {
			out = append(out, t)
		}
	}
	return out
}

// Resolve returns the current name of the taxon asked for, among the names
// that claims bear.
func Resolve(taxa []string, asked string, names *Names) (string, error) {
	var known []string
	for _, t := range taxa {
		if c := names.Current(t); c != "" {
			known = append(known, c)
		}
	}
	slices.Sort(known)
	known = slices.Compact(known)
	has := func(t string) bool { return slices.ContainsFunc(known, func(k string) bool { return covers(t, k) }) }

	if t := names.Current(asked); t != "" && has(t) {
		return t, nil
	}
	if fits := shortened(known, asked, names); len(fits) == 1 {
		return fits[0], nil
	} else if len(fits) > 1 {
		return "", &Ambiguous{strings.TrimSpace(asked), fits}
	}
	for _, n := range name.Find(asked) { // "artemias", "Triops longicaudatus (LeConte, 1846)"
		if t := names.Current(n.Full()); t != "" && has(t) {
			return t, nil
		}
	}
	return "", &Unknown{strings.TrimSpace(asked), Near(asked, slices.Concat(known, taxa), 3), len(known)}
}

// shortened returns the known species that "B. lindahli", "Br lindahli" or
// "lindahli" can mean; an old epithet finds the current name.
func shortened(known []string, asked string, names *Names) []string {
	words := strings.Fields(strings.ToLower(asked))
	var genus, epithet string
	switch len(words) {
	case 1:
		epithet = words[0]
		if g, e, ok := strings.Cut(epithet, "."); ok { // "B.lindahli"
			genus, epithet = g, e
		}
	case 2:
		genus, epithet = strings.TrimSuffix(words[0], "."), words[1]
	}
	if epithet == "" {
		return nil
	}
	var fits []string
	add := func(spelling, current string) {
		g, e, _ := strings.Cut(Fold(spelling), " ")
		if e == epithet && strings.HasPrefix(g, genus) {
			fits = append(fits, current)
		}
	}
	for _, k := range known {
		add(k, k)
	}
	if names != nil {
		for old := range names.current {
			now := names.Current(old)
			if slices.Contains(known, now) {
				add(old, now)
			}
		}
	}
	slices.Sort(fits)
	return slices.Compact(fits)
}
