package name

import (
	"bufio"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// shared returns a file of the folder of labelled data beside the checkout,
// or skips the test.
func shared(t *testing.T, parts ...string) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		path := filepath.Join(append([]string{dir, "..", "shared"}, parts...)...)
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			if _, err := os.Stat(path); err != nil {
				t.Skipf("no %s beside the checkout: labelled passages are not part of the project", filepath.Join(parts...))
			}
			return path
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Skip("not inside the module's folder")
		}
		dir = up
	}
}

type passage struct {
	ID, Title, Text, Lang string
	Claims                []struct{ Taxon, Quote string }
}

func passages(t *testing.T, file string) []passage {
	t.Helper()
	f, err := os.Open(shared(t, file))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out []passage
	sc := bufio.NewScanner(f)
	sc.Buffer(nil, 1<<22)
	for sc.Scan() {
		var p passage
		if err := json.Unmarshal(sc.Bytes(), &p); err != nil {
			t.Fatal(err)
		}
		out = append(out, p)
	}
	if err := sc.Err(); err != nil {
		t.Fatal(err)
	}
	return out
}

// TestRecallOnPassages asks whether the taxon of each labelled claim is among
// the names found in its passage or title.
func TestRecallOnPassages(t *testing.T) {
	for _, tt := range []struct {
		file string
		min  float64
	}{{"passages-dev.jsonl", .97}, {"passages-free.jsonl", .97}} {
		t.Run(tt.file, func(t *testing.T) {
			var found, all int
			for _, p := range passages(t, tt.file) {
				scope := NewScope(p.Title, p.Text)
				got := map[string]bool{}
				for _, n := range append(scope.Title(), scope.Find(p.Text)...) {
					got[strings.ToLower(n.Full())] = true
				}
				for _, c := range p.Claims {
					if c.Taxon == "" {
						continue
					}
					all++
					if got[strings.ToLower(c.Taxon)] {
						found++
					} else {
						t.Logf("%s (%s): %s not among %v", p.ID, p.Lang, c.Taxon, got)
					}
				}
			}
			recall := float64(found) / float64(all)
			t.Logf("recall %d of %d = %.3f", found, all, recall)
			if recall < tt.min {
				t.Errorf("recall %.3f, want at least %.3f", recall, tt.min)
			}
		})
	}
}
