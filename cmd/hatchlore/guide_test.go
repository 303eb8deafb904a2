package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// guideText is the contributor's guide.
func guideText(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// Every path in the contributor's guide is there.
func TestGuidePaths(t *testing.T) {
	n := 0
	for _, m := range regexp.MustCompile("`(\\.?[a-z][\\w-]*(?:/[\\w.-]+)+)`").FindAllStringSubmatch(guideText(t), -1) {
		n++
		if _, err := os.Stat(filepath.Join("..", "..", filepath.FromSlash(m[1]))); err != nil {
			t.Errorf("the guide names %s, which is not there", m[1])
		}
	}
	if n < 100 {
		t.Errorf("%d paths were seen", n)
	}
}

// Every test, benchmark and fuzz target that the guide's commands run is there.
func TestGuideCommands(t *testing.T) {
	n := 0
	for _, m := range regexp.MustCompile("`([^`]*go test [^`]*)`").FindAllStringSubmatch(guideText(t), -1) {
		command := strings.Join(strings.Fields(m[1]), " ")
		at := regexp.MustCompile(`\./([\w/-]+)`).FindStringSubmatch(command)
		if at == nil {
			continue
		}
		kinds := map[string]string{"run": "Test", "bench": "Benchmark", "fuzz": "Fuzz"}
		for _, f := range regexp.MustCompile(`-(run|bench|fuzz) (\w+)`).FindAllStringSubmatch(command, -1) {
			if f[2] == "xxx" {
				continue // runs none
			}
			n++
			if !testStands(t, at[1], kinds[f[1]], f[2]) {
				t.Errorf("%s: no %s of that name in %s", command, strings.ToLower(kinds[f[1]]), at[1])
			}
		}
	}
	if n < 15 {
		t.Errorf("%d commands were seen", n)
	}
}

// testStands reports whether a package has a test function with name in its own.
func testStands(t *testing.T, pkg, kind, name string) bool {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "..", filepath.FromSlash(pkg), "*_test.go"))
	if err != nil {
		t.Fatal(err)
	}
	function := regexp.MustCompile(`(?m)^func (` + kind + `\w*)\(`)
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range function.FindAllStringSubmatch(string(data), -1) {
			if strings.Contains(f[1], strings.TrimPrefix(name, kind)) {
				return true
			}
		}
	}
	return false
}
