package reference

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// Likeness says how near two printings of a name or title are.
type Likeness int

const (
	Unlike Likeness = iota
	Near            // much in common, but a word that counts differs
	Open            // one of them says too little to tell
	Alike           // a subtitle, a hyphen, a misprint or an author left out apart, the same
	Same
)

// leastTitle is how many letters a title needs to stand for its work by itself.
const leastTitle = 20

// CompareTitles says how near two titles are. Case, accents, marks and hyphens
// never count; a numeral always does, for parts of a series differ in nothing
// else.
func CompareTitles(a, b string) Likeness { return foldedTitle(a).compare(foldedTitle(b)) }

// title is a title as printed and folded.
type title struct{ printed, folded string }

func foldedTitle(printed string) title { return title{printed, Fold(printed)} }

func (t title) compare(u title) Likeness {
	if t.folded == "" || u.folded == "" {
		return Open
	}
	if is := t.same(u); is != Unlike {
		return is
	}
	wa, wb := titleWords(t.printed), titleWords(u.printed)
	if len(wa) < leastWords || len(wb) < leastWords {
		return Open
	}
	shared := 0
	for _, w := range wa {
		if slices.Contains(wb, w) {
			shared++
		}
	}
	if 2*shared >= min(len(wa), len(wb)) {
		return Near
	}
	return Unlike
}

// leastWords is how many words two titles need to speak against each other.
const leastWords = 3

// same returns [Same] or [Alike] for titles of one work, and [Unlike] for all
// others.
func (t title) same(u title) Likeness {
	if t.folded == u.folded {
		return Same
	}
	if len(t.folded) > len(u.folded) {
		t, u = u, t
	}
	if len(t.folded) < leastTitle {
		return Unlike
	}
	if strings.HasPrefix(u.folded, t.folded) && !otherPart(t.printed, u.printed) ||
		misprints(t.folded, u.folded, len(u.folded)/misprintEvery) && slices.Equal(numerals(t.printed), numerals(u.printed)) {
		return Alike
	}
	return Unlike
}

// misprintEvery is how many letters of a title may have one misprint, in a
// title of at most longestTitle; what is longer is a list that was not split.
const (
	misprintEvery = 25
	longestTitle  = 400
)

// titleWords are the folded words of a title that carry its sense.
func titleWords(t string) []string {
	var out []string
	for w := range strings.FieldsSeq(t) {
		if f := Fold(w); utf8.RuneCountInString(f) >= 4 && !slices.Contains(out, f) {
			out = append(out, f)
		}
	}
	return out
}

// numerals are the numbers of a title, Roman ones too, in order.
func numerals(t string) []string {
	var out []string
	for w := range strings.FieldsSeq(t) {
		if w = strings.Trim(w, ".,:;()–-"); isNumeral(w) {
			out = append(out, w)
		}
	}
	return out
}

func isNumeral(w string) bool {
	return w != "" && (strings.Trim(w, "0123456789") == "" || strings.Trim(w, "IVX") == "")
}

// otherPart reports whether two titles, of which the longer begins as the
// other does, are parts of a series: "Eggs in mud" and "Eggs in mud. II".
func otherPart(short, long string) bool {
	ns, nl := numerals(short), numerals(long)
	if len(ns) > len(nl) || !slices.Equal(ns, nl[:len(ns)]) {
		return true
	}
	n, words := len(strings.Fields(short)), strings.Fields(long)
	return n < len(words) && isNumeral(strings.Trim(words[n], ".,:;()–-"))
}

// misprints reports whether at most n letters differ between a and b: put in,
// left out or changed.
func misprints(a, b string, n int) bool {
	ra, rb := []rune(a), []rune(b)
	if n == 0 || len(rb) > longestTitle || len(rb)-len(ra) > n || len(ra)-len(rb) > n {
		return false
	}
	row := make([]int, len(rb)+1)
	for j := range row {
		row[j] = j
	}
	for i, x := range ra {
		diagonal, least := row[0], i+1
		row[0] = i + 1
		for j, y := range rb {
			cost := diagonal
			if x != y {
				cost = 1 + min(diagonal, row[j], row[j+1])
			}
			diagonal, row[j+1] = row[j+1], cost
			least = min(least, cost)
		}
		if least > n {
			return false
		}
	}
	return row[len(rb)] <= n
}

// CompareAuthors says how near two lists of authors are: [Alike] where one
// goes on after the other has ended. An author without a name stands for those
// whom "et al." leaves out.
func CompareAuthors(a, b []Author) Likeness {
	if len(a) == 0 || len(b) == 0 {
		return Open
	}
	for i := range min(len(a), len(b)) {
		switch {
		case a[i].Family == "" || b[i].Family == "":
			if len(a) < 3 && len(b) < 3 {
				return Alike // of two authors most papers name both
			}
			return Same
		case !sameAuthor(a[i], b[i]):
			return Unlike
		}
	}
	if len(a) != len(b) {
		return Alike
	}
	return Same
}

// sameAuthor compares family names, and the first initials where both have
// them.
func sameAuthor(a, b Author) bool {
	if a.Family != b.Family {
		forms := FamilyForms(b.Family)
		same := func(f string) bool { return slices.Contains(forms, f) }
		if !slices.ContainsFunc(FamilyForms(a.Family), same) && !sameButLost(a.Family, b.Family) {
			return false
		}
	}
	ga, gb := Fold(a.Given), Fold(b.Given)
	return ga == "" || gb == "" || firstLetter(ga) == firstLetter(gb)
}

func firstLetter(s string) rune {
	r, _ := utf8.DecodeRuneInString(s)
	return r
}

// FamilyForms are the folded forms by which an author is looked for: the whole
// family name, and without its particles, which one paper prints and the next
// leaves out.
func FamilyForms(family string) []string {
	whole := Fold(family)
	if !strings.Contains(family, " ") {
		return []string{whole}
	}
	words := strings.Fields(family)
	for len(words) > 1 && Particle(strings.ToLower(words[0])) {
		words = words[1:]
	}
	if bare := Fold(strings.Join(words, " ")); bare != whole {
		return []string{whole, bare}
	}
	return []string{whole}
}
