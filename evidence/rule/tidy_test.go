package rule

import (
	"cmp"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
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
