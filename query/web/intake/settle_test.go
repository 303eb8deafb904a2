package intake

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hatchlore/evidence/store"
	"hatchlore/query"
	"hatchlore/query/web/guard"
	"hatchlore/query/web/site"
)

// plainLibrary is a library that is asked for its store only.
type plainLibrary struct{ store *store.Store }

func (l plainLibrary) Store() *store.Store                                     { return l.store }
func (l plainLibrary) Answers() *query.Engine                                  { return query.New(l.store, nil) }
func (l plainLibrary) Search(context.Context, func(*query.Engine) error) error { return nil }
func (l plainLibrary) Behind() int                                             { return 0 }
func (l plainLibrary) Invented(string) bool                                    { return false }
func (l plainLibrary) InventedNote(string) string                              { return "" }
func (l plainLibrary) Kinds() []string                                         { return []string{".txt"} }
func (l plainLibrary) Add(context.Context, []string, func(o Outcome)) error    { return nil }

// A copy of a paper that is known goes again while the paper's own file is
// there, and stays where that has gone.
func TestCopyOfAKnownPaper(t *testing.T) {
	st, err := store.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	framed, err := site.New(plainLibrary{st}, guard.New(nil, ""), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	in, err := Enter(framed, plainLibrary{st})
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	const text = "Eggs of an invented shrimp."
	own, copied := filepath.Join(t.TempDir(), "eggs.txt"), filepath.Join(in.folder(), "eggs.txt")
	write := func(path string) {
		t.Helper()
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	sum := sha256.Sum256([]byte(text))
	hash := hex.EncodeToString(sum[:])
	write(own)
	if _, err := st.Put(t.Context(), store.Paper{Key: "alder1960", Hash: hash, Source: own, Format: "txt"}, nil); err != nil {
		t.Fatal(err)
	}
	settled := func(f received) bool {
		t.Helper()
		write(copied)
		if err := st.FoundAt(t.Context(), hash, copied); err != nil {
			t.Fatal(err)
		}
		in.settle(f, Outcome{Path: copied, State: "known", Taken: true, Paper: "alder1960"})
		_, err := os.Stat(copied)
		return err == nil
	}
	if settled(received{path: copied, fresh: true}) {
		t.Error("a second file of a paper is kept")
	}
	if !settled(received{path: copied}) {
		t.Error("a file that lay in the folder before was removed")
	}
	if err := os.Remove(own); err != nil {
		t.Fatal(err)
	}
	if !settled(received{path: copied, fresh: true}) {
		t.Error("the only file of a paper was removed")
	}
}

// While papers are read a browser without script asks anew how far it is, unless files
// are being chosen meanwhile.
func TestAskedAnewWhileReading(t *testing.T) {
	st, err := store.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	const host = "127.0.0.1:8460"
	framed, err := site.New(plainLibrary{st}, guard.New([]string{host}, ""), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	in, err := Enter(framed, plainLibrary{st})
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	for _, tt := range []struct {
		at            string
		running, anew bool
	}{{"/add", false, false}, {"/add", true, true}, {"/add?still", true, false}} {
		in.set(func(p *progress) { p.Running = tt.running })
		r := httptest.NewRequest(http.MethodGet, tt.at, nil)
		r.Host = host
		w := httptest.NewRecorder()
		framed.ServeHTTP(w, r)
		body := w.Body.String()
		if anew := strings.Contains(body, `<noscript><meta http-equiv="refresh"`); anew != tt.anew || w.Header().Get("Refresh") != "" || strings.Contains(body, "data-running") != tt.running {
			t.Errorf("%s, reading %v: status %d, asked anew %v", tt.at, tt.running, w.Code, anew)
		}
	}
}
