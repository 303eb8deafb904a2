// Package heading knows the words under which papers part their text: which
// section a heading opens, and which text is the caption of a figure or table.
//
// It looks at words alone, and refuses a section to a heading that names none.
package heading

import (
	"regexp"
	"strings"
	"unicode"

	"hatchlore/ingest"
	"hatchlore/ingest/prose"
)

// sectionNames are the headings under which papers part their text, in the
// languages of the trade's literature, folded to lower case.
var sectionNames = map[ingest.Section][]string{
	ingest.SectionAbstract: {"abstract", "summary", "synopsis", "résumé", "resume", "zusammenfassung", "kurzfassung", "resumen",
		"resumo", "riassunto", "sommario", "samenvatting", "sammanfattning", "résumé/abstract", "streszczenie", "резюме", "аннотация", "abstrakt"},
	ingest.SectionIntroduction: {"introduction", "background", "einleitung", "einführung", "introducción", "introducao", "introdução",
		"introduzione", "inleiding", "inledning", "wstęp", "введение", "úvod"},
	ingest.SectionMethods: {"methods", "method", "methodology", "materials and methods", "material and methods", "methods and materials",
		"materials & methods", "material & methods", "experimental procedures", "experimental", "study site", "study area", "study sites",
		"material und methoden", "material und methode", "methoden", "methodik", "untersuchungsgebiet",
		"matériel et méthodes", "matériels et méthodes", "matériel et méthode", "méthodes", "matériaux et méthodes", "material y métodos", "materiales y métodos",
		"métodos", "metodología", "material e métodos", "materiais e métodos", "materiali e metodi", "metodi", "materiaal en methoden",
		"material och metoder", "materiał i metody", "материал и методы", "материалы и методы"},
	ingest.SectionResults: {"results", "result", "results and discussion", "findings", "ergebnisse", "resultate", "ergebnisse und diskussion", "résultats",
		"résultats et discussion", "resultados", "resultados y discusión", "resultados e discussão", "risultati", "risultati e discussione", "resultaten", "resultat", "wyniki", "результаты"},
	ingest.SectionDiscussion: {"discussion", "conclusion", "conclusions", "discussion and conclusions", "general discussion", "besprechung", "erörterung", "concluding remarks", "diskussion", "schlussfolgerung",
		"schlussfolgerungen", "fazit", "discusión", "conclusiones", "discussão", "conclusões", "discussione", "conclusioni", "discussie", "conclusie", "dyskusja", "обсуждение", "выводы"},
	ingest.SectionReferences: {"references", "literature cited", "literature", "bibliography", "references cited", "cited literature", "further reading", "sources", "weiterführende literatur", "literatur",
		"literaturverzeichnis", "quellenverzeichnis", "références", "références bibliographiques", "bibliographie", "ouvrages cités", "referencias", "referencias bibliográficas",
		"bibliografía", "literatura citada", "referências", "referências bibliográficas", "bibliografia", "riferimenti bibliografici", "literatuur", "referenties", "referenser", "literatura", "литература", "список литературы"},
	ingest.SectionOther: {"acknowledgements", "acknowledgments", "acknowledgement", "acknowledgment", "appendix", "appendices", "supplementary material",
		"supplementary data", "supporting information", "funding", "author contributions", "conflict of interest", "conflicts of interest", "competing interests",
		"data availability", "keywords", "key words", "danksagung", "anhang", "remerciements", "annexe", "agradecimientos", "agradecimentos", "ringraziamenti", "dankwoord", "footnotes", "abbreviations", "ethics statement"},
}

// sections maps a folded heading to its section.
var sections = invert(sectionNames)

func invert(names map[ingest.Section][]string) map[string]ingest.Section {
	out := map[string]ingest.Section{}
	for s, list := range names {
		for _, n := range list {
			out[n] = s
		}
	}
	return out
}

// longestName is how many letters the longest name of a section has, and
// numberLetters how many a number before it may have. Most lines have more.
var longestName = longest(sections)

const numberLetters = 5

func longest(names map[string]ingest.Section) int {
	n := 0
	for name := range names {
		n = max(n, prose.Letters(name))
	}
	return n
}

// numbering matches a heading's number: 2, 2.1, IV., A).
var numbering = regexp.MustCompile(`^(?:[0-9]{1,2}(?:\.[0-9]{1,2})*\.?|[IVX]{1,5}\.|[A-H][.)])\s+`)

// IsNumbered reports whether a heading begins with a number.
func IsNumbered(heading string) bool { return numbering.MatchString(heading) }

// maxSectionName bounds a heading that names a section, in bytes: the longest
// name letter-spaced, and a number before it.
const maxSectionName = 120

// Section returns the section that a heading opens; ok is false for a heading
// that names none.
func Section(heading string) (ingest.Section, bool) {
	if len(heading) > maxSectionName {
		return "", false
	}
	if r := prose.FirstLetter(heading); !unicode.IsUpper(r) && !unicode.IsDigit(r) || prose.Letters(heading) > longestName+numberLetters {
		return "", false
	}
	s, ok := sections[foldHeading(heading)]
	return s, ok
}

// sectionWords are words that tell a heading's section in any company: "sites and
// methods", "general discussion".
var sectionWords = map[string]ingest.Section{
	"introduction": ingest.SectionIntroduction, "einleitung": ingest.SectionIntroduction,
	"methods": ingest.SectionMethods, "materials": ingest.SectionMethods, "methoden": ingest.SectionMethods, "methodik": ingest.SectionMethods, "méthodes": ingest.SectionMethods, "métodos": ingest.SectionMethods, "metodi": ingest.SectionMethods,
	"results": ingest.SectionResults, "ergebnisse": ingest.SectionResults, "résultats": ingest.SectionResults, "resultados": ingest.SectionResults, "risultati": ingest.SectionResults,
	"discussion": ingest.SectionDiscussion, "conclusions": ingest.SectionDiscussion, "conclusion": ingest.SectionDiscussion, "diskussion": ingest.SectionDiscussion, "discusión": ingest.SectionDiscussion, "discussão": ingest.SectionDiscussion,
	"references": ingest.SectionReferences, "bibliography": ingest.SectionReferences,
}

// Of returns the section that a block known to be a heading opens: the one that it
// names, else that of its first telling word. ok is false for a heading that opens
// none.
func Of(heading string) (section ingest.Section, ok bool) {
	if s, ok := Section(heading); ok {
		return s, true
	}
	words := strings.Fields(foldHeading(heading))
	if len(words) > 6 {
		return "", false
	}
	for _, w := range words {
		if s, ok := sectionWords[strings.Trim(w, ",.:;&")]; ok {
			return s, true
		}
	}
	return "", false
}

// foldHeading strips numbers and punctuation, closes up letter-spaced words and
// lowers the case.
func foldHeading(s string) string {
	s = numbering.ReplaceAllString(strings.TrimSpace(s), "")
	s = strings.Trim(s, " .:—–-•*|")
	words := strings.Fields(s)
	spaced := len(words) > 3
	for _, w := range words {
		if len([]rune(w)) > 1 {
			spaced = false
		}
	}
	if spaced {
		return strings.ToLower(strings.Join(words, ""))
	}
	return strings.ToLower(strings.Join(words, " "))
}

// RunIn returns the section of a block that begins with its own heading, such
// as "Abstract. We ..." or "Zusammenfassung – Die ...", and where its text
// begins.
func RunIn(text string) (ingest.Section, int, bool) {
	head := text[:min(len(text), 60)]
	for i, r := range head {
		if strings.ContainsRune(".:—–-", r) {
			s, ok := Section(head[:i])
			if !ok || s == ingest.SectionOther || !unicode.IsUpper(prose.First(strings.TrimSpace(head))) {
				return "", 0, false
			}
			return s, i + len(string(r)), true
		}
	}
	return "", 0, false
}

// captionStart matches the label that opens a figure's or table's caption.
var captionStart = regexp.MustCompile(`^(?i:(?:supplementary |extended data )?(fig(?:ure|ura|\.)?s?|abb(?:ildung|\.)|tab(?:le|elle|leau|la|ela|el|\.)?|plate|tafel|chart|box|scheme|map|karte|рис(?:\.|унок)?|табл(?:\.|ица)?))\.?\s*(?:[A-Z]{0,2}[0-9]{1,3}|[IVX]{1,5})[a-z]?\b(.?)`)

// IsLabelled reports whether a text begins with the label of a figure or table.
func IsLabelled(text string) bool { return captionStart.MatchString(text) }

// IsCaption reports whether a block's text opens with a caption's label rather
// than with a sentence about the figure: a stop or colon follows the number, or
// the label stands apart by its type.
func IsCaption(text string, apart bool) bool {
	m := captionStart.FindStringSubmatchIndex(text)
	if m == nil || !unicode.IsUpper(prose.First(text)) {
		return false
	}
	after := text[m[4]:m[5]]
	if strings.ContainsAny(after, ".:|—–") || m[1] >= len(text) {
		return true
	}
	rest := strings.TrimLeft(text[m[4]:], " \t")
	return apart && unicode.IsUpper(prose.First(rest))
}
