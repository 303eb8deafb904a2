package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// more stands in README for the rest of an output.
const more = "…"

// TestReadme runs the commands that README shows and compares what they
// print, so that it cannot go stale. With -update it writes their output into
// README, as many lines as stood there.
func TestReadme(t *testing.T) {
	readme, err := filepath.Abs(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("COLUMNS", "96")
	t.Setenv("HATCHLORE_LIBRARY", filepath.Join(t.TempDir(), "library"))
	t.Chdir(filepath.Dir(readme))

	var out []string
	lines := strings.Split(string(text), "\n")
	shown := 0
	for i := 0; i < len(lines); {
		command, ok := strings.CutPrefix(lines[i], "$ hatchlore ")
		out = append(out, lines[i])
		i++
		if !ok {
			continue
		}
		shown++
		end := i
		for end < len(lines) && !strings.HasPrefix(lines[end], "```") && !strings.HasPrefix(lines[end], "$ ") {
			end++
		}
		got := runShown(t, command, lines[i:end])
		if diff := cmp.Diff(lines[i:end], got); diff != "" && !*update {
			t.Errorf("hatchlore %s prints otherwise (-README +now):\n%s", command, diff)
		}
		out = append(out, got...)
		i = end
	}
	if shown == 0 {
		t.Error("README shows no command")
	}
	if *update {
		if err := os.WriteFile(readme, []byte(strings.Join(out, "\n")), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// runShown runs a command line of README and returns as much of its output as
// README shows.
func runShown(t *testing.T, command string, want []string) []string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if status := run(t.Context(), words(command), strings.NewReader(""), &stdout, &stderr); status != statusDone {
		t.Errorf("hatchlore %s: status %d, %s", command, status, stderr.String())
	}
	got := strings.Split(strings.TrimRight(stdout.String(), "\n"), "\n")
	if n := len(want); n > 0 && want[n-1] == more && len(got) >= n {
		got = append(got[:n-1:n-1], more)
	}
	return got
}

// words splits a command line at blanks outside double quotes.
func words(line string) []string {
	var out []string
	quoted := false
	fields := strings.FieldsFunc(line, func(r rune) bool {
		if r == '"' {
			quoted = !quoted
		}
		return r == ' ' && !quoted
	})
	for _, f := range fields {
		out = append(out, strings.ReplaceAll(f, `"`, ""))
	}
	return out
}
