// Package surroundings gives tests what they need from around the checkout:
// files of the folder 'shared' beside it, which are no part of the project, and a
// disk of few bytes. A test that finds it missing is skipped and says what is.
//
// Nothing but tests imports it.
package surroundings

import (
	"bufio"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
)

// Shared returns the path of a file or folder of 'shared' beside the checkout.
func Shared(t testing.TB, parts ...string) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	within := filepath.Join(append([]string{"shared"}, parts...)...)
	for {
		found := filepath.Join(dir, within)
		if _, err := os.Stat(found); err == nil {
			return found
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Skipf("skipped: no %s beside the checkout", within)
		}
		dir = up
	}
}

// longestLine of a file that is read line by line.
const longestLine = 1 << 22

// Lines reads a file of one JSON value a line; empty lines are passed over.
func Lines[T any](t testing.TB, path string) []T {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out []T
	sc := bufio.NewScanner(f)
	sc.Buffer(nil, longestLine)
	for sc.Scan() {
		if len(sc.Bytes()) == 0 {
			continue
		}
		var v T
		if err := json.Unmarshal(sc.Bytes(), &v); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		out = append(out, v)
	}
	if err := sc.Err(); err != nil {
		t.Fatal(err)
	}
	return out
}
