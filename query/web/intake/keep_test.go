package intake

import (
	"path/filepath"
	"strings"
	"testing"
)

func TestFileName(t *testing.T) {
	for sent, want := range map[string]string{
		"a.pdf": "a.pdf", "../../etc/passwd": "passwd", `C:\papers\old shrimp.PDF`: "old shrimp.PDF", "/abs/x.pdf": "x.pdf", "..": "paper", "": "paper",
		".hidden.pdf": "hidden.pdf", "über Eier (1960).pdf": "über Eier (1960).pdf", "a\x00b.pdf": "a_b.pdf", "<script>.pdf": "_script_.pdf", "a\nb.pdf": "a_b.pdf",
		strings.Repeat("ü", 300) + ".pdf": strings.Repeat("ü", 58) + ".pdf",
	} {
		if got := fileName(sent); got != want {
			t.Errorf("%q is kept as %q, want %q", sent, got, want)
		}
	}
}

// FuzzFileName looks for a name that leaves its folder or hides in it.
func FuzzFileName(f *testing.F) {
	for _, s := range []string{"a.pdf", "../x", `..\..\x.pdf`, "....//x", "\x00", "." + strings.Repeat("x", 400), "CON.pdf", "a/../..", "．．/x"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, sent string) {
		got := fileName(sent)
		if got == "" || strings.HasPrefix(got, ".") || got != filepath.Base(got) || strings.ContainsAny(got, "/\\\x00\n") {
			t.Errorf("%q is kept as %q", sent, got)
		}
	})
}
