package index

import (
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"github.com/blevesearch/bleve/v2/analysis"
	"github.com/blevesearch/bleve/v2/analysis/char/asciifolding"
	"github.com/blevesearch/bleve/v2/analysis/lang/de"
	"github.com/blevesearch/bleve/v2/analysis/lang/en"
	"github.com/blevesearch/bleve/v2/analysis/lang/es"
	"github.com/blevesearch/bleve/v2/analysis/lang/fr"
	"github.com/blevesearch/bleve/v2/analysis/lang/it"
	"github.com/blevesearch/bleve/v2/analysis/lang/pt"
)

// plain is the language whose words are folded and not stemmed: names, and
// papers in languages without a stemmer.
const plain = "plain"

// gapRune separates stretches of text that are not side by side on the page;
// no phrase reaches over it.
const (
	gapRune = '\x00'
	gapSize = 100 // positions
)

// languages holds an analyzer for each language.
type languages map[string]*analyzer

func newLanguages() languages {
	return languages{
		"en":  newAnalyzer(en.EnglishStopWords, en.NewEnglishStemmerFilter()),
		"de":  newAnalyzer(de.GermanStopWords, de.NewGermanNormalizeFilter(), de.NewGermanLightStemmerFilter()),
		"fr":  newAnalyzer(fr.FrenchStopWords, fr.NewFrenchLightStemmerFilter()),
		"es":  newAnalyzer(es.SpanishStopWords, es.NewSpanishStemmerFilter()),
		"it":  newAnalyzer(it.ItalianStopWords, it.NewItalianLightStemmerFilterFilter()),
		"pt":  newAnalyzer(pt.PortugueseStopWords, pt.NewPortugueseLightStemmerFilter()),
		plain: newAnalyzer(nil),
	}
}

// of returns the name and analyzer for a paper's language: English where the
// language is unknown, since most papers are, and plain where it has none.
func (l languages) of(lang string) (string, *analyzer) {
	if lang == "" {
		lang = "en"
	}
	if a, ok := l[lang]; ok {
		return lang, a
	}
	return plain, l[plain]
}

// analyzer cuts text into words and words into the terms that are looked up.
type analyzer struct {
	stop    analysis.TokenMap
	filters []analysis.TokenFilter
	mu      sync.RWMutex
	known   map[string][]string // terms by lower-case word; papers repeat their words
}

// maxKnown bounds the memory of an analyzer; when it is full it starts anew.
const maxKnown = 100_000

func newAnalyzer(stopWords []byte, filters ...analysis.TokenFilter) *analyzer {
	a := &analyzer{stop: analysis.NewTokenMap(), filters: filters, known: map[string][]string{}}
	a.stop.LoadBytes(stopWords) // fails on a read error only, which a byte slice has not
	return a
}

// word is a word of a text: its place in bytes and its position among words.
type word struct {
	start, end int
	position   int
	text       string // lower case
	initial    bool   // one capital letter before a full stop, as in "B. ficta"
}

// words calls f with each word of text: letters and digits in a row, with a
// decimal point or comma inside a number.
func words(text string, f func(word)) {
	position, start := 0, -1
	emit := func(end int) {
		if start < 0 {
			return
		}
		position++
		w := word{start: start, end: end, position: position, text: lower(text[start:end])}
		if end-start <= utf8.UTFMax && strings.HasPrefix(text[end:], ".") {
			r, n := utf8.DecodeRuneInString(text[start:])
			w.initial = start+n == end && unicode.IsUpper(r)
		}
		f(w)
		start = -1
	}
	for i, r := range text {
		switch {
		case isWordRune(r) || start >= 0 && r >= utf8.RuneSelf && unicode.Is(unicode.Mn, r):
			if start < 0 {
				start = i
			}
		case start >= 0 && (r == '.' || r == ',') && isDigitAt(text, i-1) && isDigitAt(text, i+1):
		default:
			emit(i)
			if r == gapRune {
				position += gapSize
			}
		}
	}
	emit(len(text))
}

func isWordRune(r rune) bool {
	if r < utf8.RuneSelf {
		return 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9'
	}
	return r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r))
}

func isDigitAt(s string, i int) bool { return i >= 0 && i < len(s) && '0' <= s[i] && s[i] <= '9' }

// lower returns s in lower case with a decimal point for a decimal comma and
// one letter for the two signs of micro.
func lower(s string) string {
	if isPlain(s) {
		return s
	}
	s = strings.ToLower(s)
	if s[0] >= '0' && s[0] <= '9' {
		s = strings.ReplaceAll(s, ",", ".")
	}
	return strings.ReplaceAll(s, "µ", "μ")
}

// isPlain reports whether s is small letters without accents, as most words
// are.
func isPlain(s string) bool {
	for i := range len(s) {
		if s[i] < 'a' || s[i] > 'z' {
			return false
		}
	}
	return true
}

// terms returns what the word is looked up by: its stem with accents folded
// and, where that differs, the stem of the folded word, so that a word typed
// without its accents is found. A stop word has none.
func (a *analyzer) terms(w word) []string {
	if w.initial {
		return []string{w.text}
	}
	a.mu.RLock()
	terms, ok := a.known[w.text]
	a.mu.RUnlock()
	if ok {
		return terms
	}
	if _, stop := a.stop[w.text]; !stop {
		folded := fold(w.text)
		first, second := fold(a.stem(w.text)), fold(a.stem(folded))
		terms = []string{first}
		if second != first {
			terms = append(terms, second)
		}
	}
	a.mu.Lock()
	if len(a.known) >= maxKnown {
		clear(a.known)
	}
	a.known[strings.Clone(w.text)] = terms // not to keep the page's text alive
	a.mu.Unlock()
	return terms
}

func (a *analyzer) stem(s string) string {
	stream := analysis.TokenStream{&analysis.Token{Term: []byte(s), Type: analysis.AlphaNumeric}}
	for _, f := range a.filters {
		stream = f.Filter(stream)
	}
	if len(stream) != 1 || len(stream[0].Term) == 0 {
		return s
	}
	return string(stream[0].Term)
}

func fold(s string) string {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			folded := asciifolding.New().Filter([]byte(s))
			return strings.Map(func(r rune) rune {
				if unicode.Is(unicode.Mn, r) {
					return -1 // an accent written as a character of its own
				}
				return r
			}, string(folded))
		}
	}
	return s
}

// Analyze makes analyzer the engine's interface of that name.
func (a *analyzer) Analyze(text []byte) analysis.TokenStream {
	stream := make(analysis.TokenStream, 0, len(text)/6)
	words(string(text), func(w word) {
		for _, t := range a.terms(w) {
			// Without offsets in bytes, which nothing looks up, the index is smaller.
			stream = append(stream, &analysis.Token{Position: w.position, Term: []byte(t), Type: analysis.AlphaNumeric})
		}
	})
	return stream
}
