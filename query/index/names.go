package index

import (
	"slices"
	"strings"

	"hatchlore/query/index/question"
	"hatchlore/query/index/stem"
)

// nameTerms returns what pages that name the given animals are found by: of
// each name the genus, the species, the whole, and the epithet, in lower case
// without accents. A genus that nobody could write out ("F. umbrosa") gives the
// name as it stands. Open nomenclature keeps a species apart: "Ficta cf.
// umbrosa" is no Ficta umbrosa.
func nameTerms(names []string) []string {
	var out []string
	add := func(term string) {
		if term != "" && !strings.HasSuffix(term, ".") && !slices.Contains(out, term) {
			out = append(out, term)
		}
	}
	for _, n := range names {
		words := strings.Fields(stem.Fold(strings.ToLower(n)))
		for i := range words {
			add(strings.Join(words[:i+1], " "))
		}
		if len(words) > 1 && !isShort(words) {
			add(words[1])
		}
	}
	return out
}

// minEpithet is the length below which a word behind an initial is no epithet.
const minEpithet = 4

// untold returns the short names of a page that its Names do not tell the genus
// of: a letter and a full stop before a word in small letters.
func untold(page Page) []Name {
	told := map[int]bool{}
	for _, n := range page.Names {
		told[n.Start] = true
	}
	var out []Name
	var before stem.Word
	stem.Words(page.Text, func(w stem.Word) {
		if before.Initial && w.Position == before.Position+1 && w.Start == before.End+len(". ") && !told[before.Start] &&
			w.End-w.Start >= minEpithet && strings.HasPrefix(page.Text[w.Start:], w.Text[:1]) && !stem.IsDigitAt(w.Text, 0) {
			out = append(out, Name{Full: before.Text + ". " + w.Text, Start: before.Start})
		}
		before = w
	})
	return out
}

// meaning is what may be meant by a name.
type meaning struct {
	known  bool     // the index knows the name, or another for it
	terms  []string // of [nameTerms]: a page that has one names the animal
	others []string // other names, to be found in the text as well
	short  []string // abbreviated forms, that pages with the terms may print
}

// needles returns the needles of a question, its names looked up in the index.
func (ix *Index) needles(q question.Question, same func(string) []string) ([]needle, error) {
	if same == nil {
		same = func(string) []string { return nil }
	}
	d, err := ix.reader()
	if err != nil {
		return nil, err
	}
	defer d.close()
	return needlesOf(q, func(typed string) (meaning, error) { return d.meaning(typed, same) })
}

// meaning returns what may be meant by words as typed.
func (d dictionary) meaning(typed string, same func(string) []string) (meaning, error) {
	words := strings.Fields(stem.Fold(strings.ToLower(typed)))
	if len(words) == 0 {
		return meaning{}, nil
	}
	names := []string{strings.Join(words, " ")}
	var m meaning
	if isShort(words) {
		written, err := d.written(words)
		if err != nil {
			return meaning{}, err
		}
		for _, o := range same(names[0]) {
			written = append(written, stem.Fold(strings.ToLower(o)))
		}
		if len(written) == 0 {
			return meaning{}, nil
		}
		m.others, names = written, written
	}
	for _, n := range names {
		for _, o := range same(n) {
			m.others = append(m.others, stem.Fold(strings.ToLower(o)))
		}
	}
	for _, n := range append(names, m.others...) {
		if err := d.addTerms(&m, n); err != nil {
			return meaning{}, err
		}
	}
	return m, nil
}

// addTerms adds what a name written out is found by: itself, and the short
// forms of it or, of a genus, of its species.
func (d dictionary) addTerms(m *meaning, name string) error {
	terms, err := d.startingWith(name)
	if err != nil {
		return err
	}
	for _, t := range terms {
		rest, ok := strings.CutPrefix(t, name)
		if !ok || rest != "" && rest[0] != ' ' {
			continue // another word that starts alike
		}
		m.known = true
		if rest == "" {
			m.terms = append(m.terms, t)
		}
		if s := shortForm(t); s != "" && !slices.Contains(m.short, s) {
			// As a term it stands for pages on which nobody could tell the genus.
			m.short, m.terms = append(m.short, s), append(m.terms, s)
		}
	}
	return nil
}

// written returns the names in the index that a short name may stand for.
func (d dictionary) written(words []string) ([]string, error) {
	genus := strings.TrimSuffix(words[0], ".")
	terms, err := d.startingWith(genus)
	if err != nil {
		return nil, err
	}
	rest := " " + strings.Join(words[1:], " ")
	return slices.DeleteFunc(terms, func(t string) bool {
		return !strings.HasSuffix(t, rest) || strings.Count(t, " ") != len(words)-1 || strings.HasSuffix(strings.Fields(t)[0], ".")
	}), nil
}

// isShort reports whether words are a name with its genus shortened to one or
// two letters and a full stop, as in "f. umbrosa".
func isShort(words []string) bool {
	letters, ok := strings.CutSuffix(words[0], ".")
	n := len([]rune(letters))
	return ok && len(words) > 1 && n > 0 && n <= 2
}

// shortForm returns a species' name with its genus shortened to a letter, ""
// for a genus.
func shortForm(name string) string {
	genus, rest, ok := strings.Cut(name, " ")
	if !ok || strings.HasSuffix(genus, ".") {
		return ""
	}
	return string([]rune(genus)[:1]) + ". " + rest
}

// minMisspelt is the length below which one letter off is another word.
const minMisspelt = 5

// NamesLike returns the genera and epithets on the library's pages that are one
// letter off word (one more, one less, one other), in order, genera with a
// capital; none when word itself is such a name or has fewer than five letters.
func (ix *Index) NamesLike(word string) ([]string, error) {
	word = stem.Fold(strings.ToLower(word))
	if len(word) < minMisspelt {
		return nil, nil
	}
	var out []string
	err := ix.ask(func() error {
		d, err := ix.reader()
		if err != nil {
			return err
		}
		defer d.close()
		near, err := d.near(word)
		if err != nil || slices.Contains(near, word) {
			return err
		}
		for _, n := range near {
			species, err := d.startingWith(n + " ")
			if err != nil {
				return err
			}
			if len(species) > 0 {
				n = strings.ToUpper(n[:1]) + n[1:]
			}
			out = append(out, n)
		}
		return nil
	})
	return out, err
}
