// Package language tells in which language a text is written, and gibberish from
// language, by the share of the commonest short words.
//
// It refuses to decide on little text: a wrong language makes a reader look for
// the wrong words, an unknown one for those of all languages.
package language

import (
	"iter"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// stopWords are the commonest short words of the languages in which the trade's
// papers are written. A word in several lists counts for each.
//
// Libraries that tell languages by letter sequences were measured and left out.
// lingua-go names all of 189 labelled paragraphs, but makes the program larger
// by 80 MB and takes 450 MB of memory; whatlanggo names them all for 1 MB, but
// has had no release since 2019. These lists name 183, leave 6 open and none
// wrong; of a whole paper they are sure, in under a millisecond. And they are
// needed all the same, to tell language from gibberish.
var stopWords = map[string]map[string]bool{
	"en": set("the of and in to a is was were for with that by at on from as are be this which not or had have it an than but"),
	"de": set("der die und in den von zu das mit sich des auf für ist im dem nicht ein eine als auch es an werden aus er hat dass wurde wurden bei nach oder durch"),
	"fr": set("de la le et les des en un du une que est pour qui dans par sur au plus ne se pas avec sont ont ce aux été ou cette"),
	"es": set("de la que el en y a los se del las un por con no una su para es al lo como más o fue fueron este entre"),
	"pt": set("de a o que e do da em um para com não uma os no se na por mais as dos como foi ao das foram entre"),
	"it": set("di e il la che in un a per è una del della dei con non le si da delle sono al nel gli alla più come"),
	"nl": set("de het een en van in is dat op te zijn met voor niet aan er om ook als bij door werd werden maar naar uit"),
	"sv": set("och i att det som en på är av för med den till inte om ett från var vid efter eller"),
	"da": set("og i at det som en på er af for med den til ikke om et fra var ved efter eller"),
	"pl": set("i w na z do że się nie jest to o po od przez dla oraz są przy jak a był"),
	"cs": set("a v na se je že z do s o k ve pro za po od byl jsou jako nebo při"),
	"hu": set("a az és hogy nem is egy van meg volt ez de mint vagy után"),
	"ru": set("и в не на что с по как из у от за для при к а о до это или был были"),
	"tr": set("ve bir bu da de için ile olarak olan daha çok en gibi"),
	"id": set("yang dan di dengan untuk pada dari ini dalam adalah tidak oleh atau"),
}

func set(words string) map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.Fields(words) {
		out[w] = true
	}
	return out
}

// MinShare is the share of stop words under which running text is not
// language.
const MinShare = 0.17

// Of returns the language whose stop words are most frequent in the
// texts, as an ISO 639-1 code; "" for too little text or none clearly ahead.
func Of(texts ...string) string {
	freq := map[string]int{}
	total := 0
	for _, text := range texts {
		for w := range shortWords(text) {
			if total++; w != "" {
				freq[w]++
			}
		}
	}
	counts := map[string]int{}
	for lang, list := range stopWords {
		for w := range list {
			counts[lang] += freq[w]
		}
	}
	best, second := "", 0
	for lang, n := range counts {
		if n > counts[best] || n == counts[best] && lang < best {
			best = lang
		}
	}
	for lang, n := range counts {
		if lang != best {
			second = max(second, n)
		}
	}
	if total < 20 || counts[best]*10 < total || counts[best]*20 < second*21 {
		return ""
	}
	return best
}

// longestStop is the length in bytes of the longest stop word.
var longestStop = longest(stopWords)

func longest(lists map[string]map[string]bool) int {
	n := 0
	for _, list := range lists {
		for w := range list {
			n = max(n, len(w))
		}
	}
	return n
}

// Share returns the share of a text's words that are stop words of the
// language, of English when it is unknown.
func Share(text, lang string) float64 {
	list := stopWords[lang]
	if list == nil {
		list = stopWords["en"]
	}
	words, n := 0, 0
	for w := range shortWords(text) {
		if words++; list[w] {
			n++
		}
	}
	return float64(n) / float64(max(1, words))
}

// shortWords yields the words of a text in lower case, those too long for a
// stop word as "".
func shortWords(text string) iter.Seq[string] {
	return func(yield func(string) bool) {
		start, plain := -1, true // where a word began, and whether it is ASCII so far
		emit := func(end int) bool {
			w := text[start:end]
			if !plain {
				w = strings.ToLower(w) // which may be shorter
			}
			switch {
			case len(w) > longestStop:
				w = ""
			case plain:
				w = strings.ToLower(w)
			}
			start, plain = -1, true
			return yield(w)
		}
		for i, r := range text {
			switch {
			case !unicode.IsLetter(unicode.ToLower(r)):
				if start >= 0 && !emit(i) {
					return
				}
			case start < 0:
				start, plain = i, r < utf8.RuneSelf
			default:
				plain = plain && r < utf8.RuneSelf
			}
		}
		if start >= 0 {
			emit(len(text))
		}
	}
}

// Words returns the words of a text in lower case.
func Words(text string) []string {
	return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) })
}

// Reads reports whether a text reads as any of the languages. Words of one
// letter stand in some lists and in all gibberish, and do not count.
func Reads(text string) bool {
	text = strings.Join(slices.DeleteFunc(Words(text), func(w string) bool { return utf8.RuneCountInString(w) < 2 }), " ")
	for lang := range stopWords {
		if Share(text, lang) >= MinShare {
			return true
		}
	}
	return false
}
