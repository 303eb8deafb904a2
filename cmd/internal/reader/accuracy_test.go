package reader

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	corpus "hatchlore/corpus-sample"
	"hatchlore/evidence"
)

var update = flag.Bool("update", false, "write the table of agreement into README")

// TestReadmeAccuracy compares README's table of agreement with what the rules
// now read in the labelled passages, so that it cannot go stale. With -update
// it writes the table.
func TestReadmeAccuracy(t *testing.T) {
	const head = "| factor | labelled | read | right | precision | recall |\n"
	readme := filepath.Join("..", "..", "..", "README.md")
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	start := strings.Index(text, head)
	if start < 0 {
		t.Fatalf("README has no table with the head %q", strings.TrimSpace(head))
	}
	end := start + strings.Index(text[start:]+"\n\n", "\n\n") + 1
	want := head + accuracyTable(t)
	if text[start:end] == want {
		return
	}
	if !*update {
		t.Fatalf("README's table of agreement is stale; go test ./cmd/internal/reader -run Accuracy -update writes it (-README +now):\n%s",
			cmp.Diff(text[start:end], want))
	}
	if err := os.WriteFile(readme, []byte(text[:start]+want+text[end:]), 0o644); err != nil {
		t.Fatal(err)
	}
}

// accuracyTable counts full agreement, factor by factor, over the labelled
// passages read one by one.
func accuracyTable(t *testing.T) string {
	t.Helper()
	gold, err := corpus.Gold()
	if err != nil {
		t.Fatal(err)
	}
	r := newReader(t, Options{})
	dir := t.TempDir()
	scores := map[evidence.Factor]corpus.Score{}
	for _, p := range gold {
		read := readPassage(t, r, dir, p)
		for _, m := range evidence.Measures() {
			labels := keep(p.Claims, func(c corpus.Claim) bool { return c.Factor == m.Factor })
			claims := keep(read, func(c evidence.Claim) bool { return c.Factor == m.Factor })
			scores[m.Factor] = scores[m.Factor].Add(corpus.Compare(labels, claims).Full)
		}
	}
	var b strings.Builder
	b.WriteString("|---|---|---|---|---|---|\n")
	var all corpus.Score
	for _, m := range evidence.Measures() {
		if s := scores[m.Factor]; s.Gold+s.Claimed > 0 {
			all = all.Add(s)
			b.WriteString(accuracyRow(m.Label, s))
		}
	}
	b.WriteString(accuracyRow("all", all))
	return b.String()
}

func accuracyRow(name string, s corpus.Score) string {
	return fmt.Sprintf("| %s | %d | %d | %d | %.2f | %.2f |\n", name, s.Gold, s.Claimed, s.Right, s.Precision(), s.Recall())
}

func keep[T any](all []T, holds func(T) bool) (out []T) {
	for _, x := range all {
		if holds(x) {
			out = append(out, x)
		}
	}
	return out
}
