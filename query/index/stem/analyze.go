// Package stem cuts text into words and words into the terms by which they are looked
// up: stemmed in the language of the paper, accents folded.
//
// It refuses to guess a language; the caller says which, and words of languages
// without a stemmer stay as they are.
package stem

import (
	"regexp"
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

// Plain is the language whose words are folded and not stemmed: names, and
// papers in languages without a stemmer.
const Plain = "plain"

// Gap separates stretches of text that are not side by side on the page;
// no phrase reaches over it.
const (
	Gap     = '\x00'
	gapSize = 100 // positions
)

// Languages holds an analyzer for each language.
type Languages map[string]*Analyzer

// New returns an analyzer for each language that has a stemmer, and [Plain].
func New() Languages {
	return Languages{
		"en":  newAnalyzer(en.EnglishStopWords, en.NewEnglishStemmerFilter()),
		"de":  newAnalyzer(de.GermanStopWords, de.NewGermanNormalizeFilter(), de.NewGermanLightStemmerFilter()),
		"fr":  newAnalyzer(fr.FrenchStopWords, fr.NewFrenchLightStemmerFilter()),
		"es":  newAnalyzer(es.SpanishStopWords, es.NewSpanishStemmerFilter()),
		"it":  newAnalyzer(it.ItalianStopWords, it.NewItalianLightStemmerFilterFilter()),
		"pt":  newAnalyzer(pt.PortugueseStopWords, pt.NewPortugueseLightStemmerFilter()),
		Plain: newAnalyzer(nil),
	}
}

// Of returns the name and analyzer for a paper's language: English where the
// language is unknown, since most papers are, and plain where it has none.
func (l Languages) Of(lang string) (string, *Analyzer) {
	if lang == "" {
		lang = "en"
	}
	if a, ok := l[lang]; ok {
		return lang, a
	}
	return Plain, l[Plain]
}

// Analyzer cuts text in one language into words, and words into the terms that are
// looked up. It may be used by several goroutines.
type Analyzer struct {
	stop    analysis.TokenMap
	filters []analysis.TokenFilter
	mu      sync.RWMutex
	known   map[string][]string // terms by lower-case word; papers repeat their words
}

// maxKnown bounds the memory of an analyzer; when it is full it starts anew.
const maxKnown = 100_000

func newAnalyzer(stopWords []byte, filters ...analysis.TokenFilter) *Analyzer {
	a := &Analyzer{stop: analysis.NewTokenMap(), filters: filters, known: map[string][]string{}}
	a.stop.LoadBytes(stopWords) // fails on a read error only, which a byte slice has not
	return a
}

// Word is a word of a text: its place in bytes and its position among words.
type Word struct {
	Start, End int
	Position   int
	Text       string // lower case
	Initial    bool   // one capital letter before a full stop, as in "B. ficta"
}

// Words calls f with each word of text: letters and digits in a row, with a
// decimal point or comma inside a number.
func Words(text string, f func(Word)) {
	position, start := 0, -1
	emit := func(end int) {
		if start < 0 {
			return
		}
		position++
		w := Word{Start: start, End: end, Position: position, Text: lower(text[start:end])}
		if end-start <= utf8.UTFMax && strings.HasPrefix(text[end:], ".") {
			r, n := utf8.DecodeRuneInString(text[start:])
			w.Initial = start+n == end && unicode.IsUpper(r)
		}
		f(w)
		start = -1
	}
	for i, r := range text {
		switch {
		case IsWordRune(r) || start >= 0 && r >= utf8.RuneSelf && unicode.Is(unicode.Mn, r):
			if start < 0 {
				start = i
			}
		case start >= 0 && (r == '.' || r == ',') && IsDigitAt(text, i-1) && IsDigitAt(text, i+1):
		default:
			emit(i)
			if r == Gap {
				position += gapSize
			}
		}
	}
	emit(len(text))
}

// IsWordRune reports whether r can stand in a word: a letter or a digit.
func IsWordRune(r rune) bool {
	if r < utf8.RuneSelf {
		return 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9'
	}
	return r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r))
}

// IsDigitAt reports whether the byte at i is a digit; none stands outside s.
func IsDigitAt(s string, i int) bool { return i >= 0 && i < len(s) && '0' <= s[i] && s[i] <= '9' }

// lower returns s in lower case with a decimal point for a decimal comma and u for
// the two signs of micro, as keyboards without them and scans have it.
func lower(s string) string {
	if isPlain(s) {
		return s
	}
	s = strings.ToLower(s)
	if s[0] >= '0' && s[0] <= '9' {
		s = strings.ReplaceAll(s, ",", ".")
	}
	for _, micro := range []string{"µ", "μ"} {
		if strings.Contains(s, micro) {
			s = strings.ReplaceAll(s, micro, "u")
		}
	}
	return s
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

// Terms returns what the word is looked up by: its stem with accents folded
// and, where that differs, the stem of the folded word, so that a word typed
// without its accents is found. A number with signs between its thousands, which may
// be a decimal one, is looked up without them too. A stop word has none.
func (a *Analyzer) Terms(w Word) []string {
	if w.Initial {
		return []string{w.Text}
	}
	a.mu.RLock()
	terms, ok := a.known[w.Text]
	a.mu.RUnlock()
	if ok {
		return terms
	}
	if _, stop := a.stop[w.Text]; !stop {
		folded := Fold(w.Text)
		first, second := Fold(a.stem(w.Text)), Fold(a.stem(folded))
		terms = []string{first}
		if second != first {
			terms = append(terms, second)
		}
		if thousands.MatchString(w.Text) {
			terms = append(terms, strings.ReplaceAll(w.Text, ".", ""))
		}
	}
	a.mu.Lock()
	if len(a.known) >= maxKnown {
		clear(a.known)
	}
	a.known[strings.Clone(w.Text)] = terms // not to keep the page's text alive
	a.mu.Unlock()
	return terms
}

// thousands is a number as [lower] leaves it that may have signs between its thousands.
var thousands = regexp.MustCompile(`^[1-9][0-9]{0,2}(\.[0-9]{3})+$`)

func (a *Analyzer) stem(s string) string {
	stream := analysis.TokenStream{&analysis.Token{Term: []byte(s), Type: analysis.AlphaNumeric}}
	for _, f := range a.filters {
		stream = f.Filter(stream)
	}
	if len(stream) != 1 || len(stream[0].Term) == 0 {
		return s
	}
	return string(stream[0].Term)
}

// Fold takes the accents off the letters of s.
func Fold(s string) string {
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
func (a *Analyzer) Analyze(text []byte) analysis.TokenStream {
	stream := make(analysis.TokenStream, 0, len(text)/6)
	Words(string(text), func(w Word) {
		for _, t := range a.Terms(w) {
			// Without offsets in bytes, which nothing looks up, the index is smaller.
			stream = append(stream, &analysis.Token{Position: w.Position, Term: []byte(t), Type: analysis.AlphaNumeric})
		}
	})
	return stream
}
