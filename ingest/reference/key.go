package reference

import (
	"fmt"
	"strconv"
	"strings"
)

// Key returns a citation key for r: the first author's family name and the
// year, in ASCII and lower case, as in "hallow1987". Where taken says that a
// key is in use, a letter follows. Without an author the key begins with
// "anon"; without year or author it is the file's name.
func Key(r Record, taken func(key string) bool) string {
	base := "anon"
	if len(r.Authors) > 0 {
		if f := ascii(r.Authors[0].Family); f != "" {
			base = f
		}
	}
	switch {
	case r.Year > 0:
		base += strconv.Itoa(r.Year)
	case base == "anon" && ascii(r.Stem) != "":
		base = ascii(r.Stem)
	}
	if !taken(base) {
		return base
	}
	for n := 0; ; n++ {
		if k := base + Letters(n); !taken(k) {
			return k
		}
	}
}

// Letters counts from 0: a, b … z, aa, ab …, as columns of a sheet are.
func Letters(n int) string {
	s := string(rune('a' + n%26))
	if n >= 26 {
		return Letters(n/26-1) + s
	}
	return s
}

// ascii spells s in small letters and digits, at most 40 of them.
func ascii(s string) string {
	var b strings.Builder
	for _, r := range spell(s) {
		if r < 128 && b.Len() < 40 {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// Citation returns the short form in which r is cited: "Hallow 1987", "Hallow &
// Birk 1987", "Hallow et al. 1987". Without authors it falls back on the title,
// without a year it says "n.d.".
func Citation(r Record) string {
	year := "n.d."
	if r.Year > 0 {
		year = strconv.Itoa(r.Year)
	}
	who := ""
	switch n := len(r.Authors); {
	case n == 0:
		who = shortTitle(r)
	case n == 1:
		who = r.Authors[0].Family
	case n == 2:
		who = fmt.Sprintf("%s & %s", r.Authors[0].Family, r.Authors[1].Family)
	default:
		who = r.Authors[0].Family + " et al."
	}
	return who + " " + year
}

// shortTitle is the first words of a title, or the file's name.
func shortTitle(r Record) string {
	words := strings.Fields(r.Title)
	switch {
	case len(words) > 6:
		return "“" + strings.Join(words[:6], " ") + " …”"
	case len(words) > 0:
		return "“" + strings.Join(words, " ") + "”"
	case r.Stem != "":
		return r.Stem
	}
	return "anonymous"
}
