package name

import (
	_ "embed"
	"strings"
	"sync"
)

//go:embed data/genera.tsv
var generaData string

//go:embed data/groups.tsv
var groupsData string

//go:embed data/vernacular.tsv
var vernacularData string

//go:embed data/ordinary.txt
var ordinaryData string

//go:embed data/context.txt
var contextData string

// Listed is a genus of the catalogue.
type Listed struct {
	Genus, Family string
	Group         string // "Anostraca", ...; "neighbours" for what is met in the same literature
	Epithets      []string
}

type catalogue struct {
	genera    map[string]Listed
	pairs     map[string]bool     // "Genus epithet"
	epithets  wordlist            // all epithets listed
	lower     map[string]string   // lower-case genus → genus
	everyday  map[string]string   // everyday word → genus
	customary map[string]string   // "Ae" → "Aedes"
	groups    map[string]string   // scientific or everyday words → group
	twoWords  map[string]string   // "fairy shrimp" → group
	says      map[string]role     // what a word in lower case can be, of those that say anything
	tails     endings             // tails of compounds whose head is a genus
	ordinary  map[string]bool     // never part of a name
	context   map[string]wordlist // section → words in lower case
}

type wordlist map[string]bool

// known is read once; it is never written after.
var known = sync.OnceValue(func() *catalogue {
	c := &catalogue{genera: map[string]Listed{}, pairs: map[string]bool{}, epithets: wordlist{}, lower: map[string]string{}, everyday: map[string]string{},
		customary: map[string]string{}, groups: map[string]string{}, twoWords: map[string]string{}, ordinary: map[string]bool{}}
	c.readGenera()
	c.readGroups()
	c.readVernacular()
	for _, words := range readSections(ordinaryData) {
		for w := range words {
			c.ordinary[w] = true
		}
	}
	c.context = readSections(contextData)
	c.sayWhat()
	return c
})

// role is what a word can be in a name that is no binomial.
type role uint8

const (
	opensTwo   role = 1 << iota // the first of two words for a group
	namesGroup                  // a word for a group
	namesGenus                  // an everyday word for a genus, or a genus in small letters
)

// sayWhat notes which words say anything, so that all others need one look.
func (c *catalogue) sayWhat() {
	c.says = map[string]role{}
	for two := range c.twoWords {
		first, _, _ := strings.Cut(two, " ")
		c.says[first] |= opensTwo
	}
	for w := range c.groups {
		c.says[w] |= namesGroup
	}
	for _, genera := range []map[string]string{c.everyday, c.lower} {
		for w := range genera {
			c.says[w] |= namesGenus
		}
	}
	c.tails = endings{set: c.context["tail"]}
	for w := range c.tails.set {
		c.tails.longest = max(c.tails.longest, len(w))
	}
}

func (c *catalogue) readGenera() {
	group := ""
	for line := range strings.Lines(generaData) {
		line = strings.TrimRight(line, "\r\n")
		if g, ok := strings.CutPrefix(line, "## "); ok {
			group = g
			continue
		}
		f := strings.Split(line, "\t")
		if strings.HasPrefix(line, "#") || len(f) < 2 {
			continue
		}
		l := Listed{Genus: f[1], Family: f[0], Group: group}
		if len(f) > 2 {
			l.Epithets = strings.Fields(f[2])
		}
		c.genera[l.Genus] = l
		c.lower[strings.ToLower(l.Genus)] = l.Genus
		c.groups[strings.ToLower(l.Family)] = l.Family
		for _, e := range l.Epithets {
			c.pairs[l.Genus+" "+e] = true
			c.epithets[e] = true
		}
	}
}

func (c *catalogue) readGroups() {
	for f := range rows(groupsData) {
		c.groups[strings.ToLower(f[0])] = f[0]
		for _, w := range f[1:] {
			if strings.Contains(w, " ") {
				c.twoWords[w] = f[0]
			} else {
				c.groups[w] = f[0]
			}
		}
	}
}

func (c *catalogue) readVernacular() {
	for f := range rows(vernacularData) {
		for _, w := range f[1:] {
			switch {
			case f[0] == "never":
				delete(c.lower, w)
			case strings.HasSuffix(w, "."):
				c.customary[strings.TrimSuffix(w, ".")] = f[0]
			default:
				c.everyday[w] = f[0]
			}
		}
	}
}

// rows yields the first column and the comma-parted words of the second.
func rows(data string) func(yield func([]string) bool) {
	return func(yield func([]string) bool) {
		for line := range strings.Lines(data) {
			head, rest, ok := strings.Cut(strings.TrimRight(line, "\r\n"), "\t")
			if !ok || strings.HasPrefix(line, "#") {
				continue
			}
			f := []string{head}
			for _, w := range strings.Split(rest, ",") {
				if w = strings.TrimSpace(w); w != "" {
					f = append(f, w)
				}
			}
			if !yield(f) {
				return
			}
		}
	}
}

// readSections reads "[name]" headings with comma-parted words below, all
// folded to lower case.
func readSections(data string) map[string]wordlist {
	out := map[string]wordlist{}
	section := ""
	for line := range strings.Lines(data) {
		line = strings.TrimSpace(line)
		switch {
		case line == "" || strings.HasPrefix(line, "#"):
		case strings.HasPrefix(line, "["):
			section = strings.Trim(line, "[]")
			out[section] = wordlist{}
		case out[section] != nil:
			for _, w := range strings.Split(line, ",") {
				if w = strings.TrimSpace(strings.ToLower(w)); w != "" {
					out[section][w] = true
				}
			}
		}
	}
	return out
}
