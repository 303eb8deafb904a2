package rule

import (
	"cmp"
	"flag"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"hatchlore/evidence/rule/marked"
)

var tidyCues = flag.Bool("tidy", false, "write the cue files anew: phrases in order, each once in its class")

// Cue files are edited by many hands: in order, a phrase is found, and is there
// once.
func TestCueFilesAreTidy(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("cues", "*.cue"))
	if err != nil || len(files) == 0 {
		t.Fatal("no cue files", err)
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		want := tidied(string(data))
		switch {
		case want == string(data):
		case *tidyCues:
			if err := os.WriteFile(f, []byte(want), 0o644); err != nil {
				t.Fatal(err)
			}
		default:
			t.Errorf("%s has phrases twice or out of order; go test ./evidence/rule -run Tidy -tidy writes it anew", f)
		}
	}
}

// A class of cues that nothing asks for is dead, and so is a role for which English
// has no words: it is misspelled on one side.
func TestEveryClassIsAskedFor(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	var asked marked.Bits
	for _, r := range set.rules {
		asked.Join(r.on)
		for _, c := range slices.Concat(r.when, r.unless) {
			asked.Join(c.among)
		}
	}
	masks, _ := set.words.BitsOf([]string{"mask"})
	asked.Join(masks)
	// Two roles are kinds of quantities, found without words.
	roles := reflect.ValueOf(set.words.Roles)
	english := set.words.Lexicons["en"].Classes()
	for i := range roles.NumField() {
		b := roles.Field(i).Interface().(marked.Bits)
		asked.Join(b)
		role := roles.Type().Field(i).Name
		quantities := role == "Fraction" || role == "YoungCount"
		if !quantities && !slices.ContainsFunc(english, func(class string) bool { n, _ := set.words.BitsOf([]string{class}); return n.Meets(b) }) {
			t.Errorf("no English words for the role %s", role)
		}
	}
	for _, lang := range set.Languages() {
		for _, class := range set.words.Lexicons[lang].Classes() {
			if b, _ := set.words.BitsOf([]string{class}); !b.Meets(asked) {
				t.Errorf("cues/%s.cue: nothing asks for %s", lang, class)
			}
		}
	}
}

var classLine = regexp.MustCompile(`^([a-z][\w-]*):`)

// tidied puts the phrases of each class in order, each once, in lines of a width
// that can be read.
func tidied(file string) string {
	const width = 118
	lines := strings.Split(file, "\n")
	var out []string
	for i := 0; i < len(lines); i++ {
		class := classLine.FindString(lines[i])
		if class == "" || class == "language:" {
			out = append(out, lines[i])
			continue
		}
		list := strings.TrimPrefix(lines[i], class)
		for ; i+1 < len(lines) && strings.HasPrefix(lines[i+1], " "); i++ {
			list += " " + lines[i+1]
		}
		phrases := inOrder(list)
		line := class
		for k, p := range phrases {
			if k < len(phrases)-1 {
				p += ","
			}
			if utf8.RuneCountInString(line+" "+p) > width {
				out = append(out, line)
				line = " "
			}
			line += " " + p
		}
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}

// inOrder parts a list at its commas and sorts it by letters, signs aside.
func inOrder(list string) []string {
	var phrases []string
	for p := range strings.SplitSeq(list, ",") {
		if p = strings.Join(strings.Fields(p), " "); p != "" {
			phrases = append(phrases, p)
		}
	}
	slices.SortFunc(phrases, func(a, b string) int {
		return cmp.Or(strings.Compare(strings.TrimLeft(a, "*~ "), strings.TrimLeft(b, "*~ ")), strings.Compare(a, b))
	})
	return slices.Compact(phrases)
}
