package reference

import (
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Entry is one entry of a reference list. Start and End are bytes of the text
// given; Raw is the entry with its lines joined.
type Entry struct {
	Record
	Start, End int
	Place      int    // in the list, from 1
	Number     int    // of a numbered list, 0 otherwise
	Suffix     string // the letter after the year
	Raw        string
}

var (
	numbered    = regexp.MustCompile(`^(?:\[(\d{1,3})\]|\(?(\d{1,3})[.)])\s+`)
	invertedAt  = regexp.MustCompile(`^(?:(?:` + strings.Join(particles, "|") + `) ){0,3}\p{Lu}[\p{L}'’‐-]+(?: \p{Lu}[\p{L}'’‐-]+)?,? (?:\p{Lu}\.|\p{Lu}{1,3}[.,;: ]|\p{Lu}-\p{Lu}\.)`)
	directAt    = regexp.MustCompile(`^(?:\p{Lu}\. ?){1,3}(?:(?:` + strings.Join(particles, "|") + `) ){0,3}\p{Lu}[\p{L}'’-]+,? `)
	corporate   = regexp.MustCompile(`^\p{Lu}\p{L}[\p{L} '’,.&-]{2,80}\(?(?:1[789]|20)\d\d[a-z]?\)?[.:,]`)
	givenAside  = regexp.MustCompile(`(\p{L}) \((\p{Lu}\p{L}?\.(?:[ -]?\p{Lu}\p{L}?\.)*)\)`) // Hallow (J.-K.), as French lists have it
	strayStop   = regexp.MustCompile(`(\p{Ll}\p{Ll})\.,`)                                    // "and Hallow., J."
	lastInitial = regexp.MustCompile(`^\p{Lu}\.$`)
	yearAt      = regexp.MustCompile(`\(?\b(1[789]\d\d|20\d\d)([a-z])?\b\)?`)
	volumeAt    = regexp.MustCompile(`^(.*?)[,.]?\s*(?:\bvol\.?\s*|\bBd\.?\s*)?\b(\d{1,4})\s*(?:\((?:[^()]{1,15})\))?\s*[:,]\s*(?:pp?\.?\s*|S\.\s*)?([A-Z]?e?\d{1,7}(?:\s*[-–—]\s*[A-Z]?\d{1,6})?)`)
	yearVolume  = regexp.MustCompile(`^(.*?)[.,]?\s*(?:1[789]|20)\d\d[^;]{0,12};\s*(\d{1,4})\s*(?:\([^()]{1,15}\))?\s*:\s*([A-Z]?e?\d{1,7}(?:\s*[-–—]\s*[A-Z]?\d{1,6})?)`)
)

// Entries splits a reference list into its entries and reads them. Text that
// starts no entry (a heading, a running head) is left out.
func Entries(text string) []Entry {
	var out []Entry
	text = markLost(text)
	for _, span := range split(text) {
		raw := joinLines(text[span[0]:span[1]])
		if e, ok := ParseEntry(raw); ok {
			e.Start, e.End, e.Place = span[0], span[1], len(out)+1
			e.showLost()
			out = append(out, e)
		}
	}
	return out
}

// ParseEntry reads one entry. It is one when it names authors and a year.
func ParseEntry(raw string) (Entry, bool) {
	e := Entry{Raw: raw}
	body := raw
	if m := numbered.FindStringSubmatch(raw); m != nil {
		e.Number, _ = strconv.Atoi(m[1] + m[2])
		body = raw[len(m[0]):]
	}
	e.DOI = FindDOI(body)
	if y := yearAt.FindStringIndex(body); y != nil {
		head := givenAside.ReplaceAllString(body[:y[0]], "$1, $2")
		body = strayStop.ReplaceAllString(head, "$1,") + body[y[0]:]
	}
	years := yearAt.FindAllStringSubmatchIndex(body, 8)
	for _, y := range years {
		authors, ok := parseAuthors(body[:y[0]])
		if !ok {
			continue
		}
		e.Authors = authors
		e.setYear(body, y)
		e.titleAndSource(strings.TrimLeft(body[y[1]:], " ).,:;"))
		return e, true
	}
	if e.yearLast(body, years) {
		return e, true
	}
	if len(years) == 0 {
		return e, false
	}
	y := years[0] // an institution as author
	head := strings.Trim(body[:y[0]], " .,:;(")
	if head == "" || len(head) > 120 || strings.Contains(head, ". ") {
		return e, false
	}
	e.Authors = []Author{{Family: head}}
	e.setYear(body, y)
	e.titleAndSource(strings.TrimLeft(body[y[1]:], " ).,:;"))
	return e, true
}

// yearLast reads "Hallow JK, Birk A. Title. Journal. 1987;12:1–10."
func (e *Entry) yearLast(body string, years [][]int) bool {
	head := 0
	for n := 0; n < 6; n++ {
		i := strings.Index(body[head:], ". ")
		if i < 0 {
			return false
		}
		head += i + 2
		authors, ok := parseAuthors(body[:head-2])
		if !ok {
			continue
		}
		if next, _ := utf8.DecodeRuneInString(body[head:]); startsInitial(body[head:]) || !unicode.IsUpper(next) && !unicode.IsDigit(next) && next != '"' && next != '“' {
			continue
		}
		for _, y := range years {
			if y[0] > head {
				e.Authors = authors
				e.setYear(body, y)
				e.titleAndSource(body[head:])
				return true
			}
		}
	}
	return false
}

// startsInitial reports whether s goes on with an initial: "K. Hallow".
func startsInitial(s string) bool {
	r, n := utf8.DecodeRuneInString(s)
	return unicode.IsUpper(r) && strings.HasPrefix(s[n:], ".")
}

func (e *Entry) setYear(body string, y []int) {
	e.Year, _ = strconv.Atoi(body[y[2]:y[3]])
	if y[4] >= 0 {
		e.Suffix = body[y[4]:y[5]]
	}
}

// titleAndSource reads what follows the year, or the authors.
func (e *Entry) titleAndSource(s string) {
	e.Title, s = cutTitle(s)
	s = strings.TrimPrefix(s, "In: ")
	m := yearVolume.FindStringSubmatch(s)
	if m == nil {
		m = volumeAt.FindStringSubmatch(s)
	}
	if m == nil || len(m[1]) > 120 {
		return
	}
	e.Journal = strings.Trim(m[1], " .,;")
	e.Volume = m[2]
	e.Pages = PageRange(m[3])
}

// PageRange writes a range of pages as this package does: "101–117", without
// blanks.
func PageRange(s string) string {
	return strings.NewReplacer(" ", "", "-", "–", "—", "–").Replace(s)
}

// cutTitle cuts a title at the end of its first sentence. An abbreviated genus
// or initial ("T. inventus", "cf.") ends none.
func cutTitle(s string) (title, rest string) {
	s = strings.TrimSpace(s)
	for open, closed := range map[string]string{"“": "”", "\"": "\"", "„": "“", "«": "»"} {
		if strings.HasPrefix(s, open) {
			if i := strings.Index(s[len(open):], closed); i > 0 {
				i += len(open)
				return strings.Trim(s[len(open):i], " .,"), strings.TrimLeft(s[i+len(closed):], " .,")
			}
		}
	}
	for i, r := range s {
		if r != '.' && r != '?' && r != '!' {
			continue
		}
		after := s[i+1:]
		if after == "" {
			return s[:i], ""
		}
		if after[0] != ' ' || r == '.' && short(s[:i]) {
			continue
		}
		end := i
		if r != '.' {
			end++
		}
		return s[:end], strings.TrimSpace(after)
	}
	return strings.TrimSpace(s), ""
}

// short reports whether s ends in a word that a stop abbreviates.
func short(s string) bool {
	w := s[strings.LastIndexAny(s, " (")+1:]
	switch strings.ToLower(w) {
	case "cf", "sp", "spp", "var", "subsp", "ssp", "vs", "st", "nov", "gen", "no", "al", "ca":
		return true
	}
	return utf8.RuneCountInString(w) == 1 && w != "" && unicode.IsUpper([]rune(w)[0])
}
