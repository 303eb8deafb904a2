package fulltext

import "strings"

// wordlist is words and beginnings of words.
type wordlist struct {
	whole  map[string]bool
	begins []string
}

// has reports whether a word is in the list, whatever marks and capitals it has.
func (l wordlist) has(word string) bool {
	w := strings.ToLower(strings.Trim(word, placeMarks+"…!?"))
	if l.whole[w] {
		return true
	}
	for _, b := range l.begins {
		if strings.HasPrefix(w, b) {
			return true
		}
	}
	return false
}

// any reports whether one of some words is in the list.
func (l wordlist) any(words []string) bool {
	for _, w := range words {
		if l.has(w) {
			return true
		}
	}
	return false
}

// wordlists reads lists of words: a name in square brackets begins one, its words
// are parted by commas, a line that begins with # is a remark.
func wordlists(data string) map[string]wordlist {
	out := map[string]wordlist{}
	section := ""
	for line := range strings.Lines(data) {
		line = strings.TrimSpace(line)
		if s, ok := strings.CutPrefix(line, "["); ok {
			section = strings.TrimSuffix(s, "]")
			out[section] = wordlist{whole: map[string]bool{}}
			continue
		}
		if strings.HasPrefix(line, "#") || section == "" {
			continue
		}
		l := out[section]
		for _, w := range strings.Split(line, ",") {
			w = strings.TrimSpace(w)
			if b, ok := strings.CutSuffix(w, "*"); ok {
				l.begins = append(l.begins, b)
			} else if w != "" {
				l.whole[w] = true
			}
		}
		out[section] = l
	}
	return out
}
