package web

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// sendPapers sends a form with files; token goes first.
func sendPapers(t *testing.T, s *Server, token string, files map[string]string) *httptest.ResponseRecorder {
	t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	if err := form.WriteField(tokenField, token); err != nil {
		t.Fatal(err)
	}
	for name, text := range files {
		f, err := form.CreateFormFile("papers", name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Write([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := form.Close(); err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequest(http.MethodPost, uploadPath, &body)
	r.Host = testHost
	r.Header.Set("Content-Type", form.FormDataContentType())
	r.Header.Set("Origin", "http://"+testHost)
	w := httptest.NewRecorder()
	s.ServeHTTP(w, r)
	return w
}

// settled waits until the papers sent are read.
func settled(t *testing.T, s *Server) jobState {
	t.Helper()
	for range 500 {
		if j := s.adding.state(); !j.Running {
			return j
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatal("the papers are not read after five seconds")
	return jobState{}
}

func TestAddPapers(t *testing.T) {
	s, shelf := testServer(t)
	w := sendPapers(t, s, s.token, map[string]string{
		"good.pdf": "a paper", "bad.pdf": "this is no paper", "picture.png": "x", "../../../escape.txt": "up and away", "empty.pdf": "",
	})
	if w.Code != http.StatusSeeOther {
		t.Fatalf("status %d\n%s", w.Code, w.Body)
	}
	settled(t, s)
	page := get(s, "/add").Body.String()
	for _, want := range []string{"good.pdf", "whatever its name says", "is no paper: papers are", "is empty"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	folder := filepath.Join(shelf.store.Dir(), "papers")
	var kept []string
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		kept = append(kept, e.Name())
	}
	// What was refused is not kept, and nothing leaves the folder.
	if got := strings.Join(kept, " "); got != "escape.txt good.pdf" {
		t.Errorf("kept: %s", got)
	}
}

// A second paper of the same name stands beside the first; the same paper
// again does not.
func TestSameNameTwice(t *testing.T) {
	s, shelf := testServer(t)
	for _, text := range []string{"one", "two", "one"} {
		if w := sendPapers(t, s, s.token, map[string]string{"a.pdf": text}); w.Code != http.StatusSeeOther {
			t.Fatalf("status %d", w.Code)
		}
		settled(t, s)
	}
	for name, want := range map[string]string{"a.pdf": "one", "a-2.pdf": "two"} {
		if got, err := os.ReadFile(filepath.Join(shelf.store.Dir(), "papers", name)); err != nil || string(got) != want {
			t.Errorf("%s: %q, %v", name, got, err)
		}
	}
	if _, err := os.Stat(filepath.Join(shelf.store.Dir(), "papers", "a-3.pdf")); err == nil {
		t.Error("one paper is kept twice")
	}
}

func TestAddWithoutToken(t *testing.T) {
	s, shelf := testServer(t)
	if w := sendPapers(t, s, "guess", map[string]string{"a.pdf": "one"}); w.Code != http.StatusForbidden {
		t.Errorf("status %d", w.Code)
	}
	if _, err := os.Stat(filepath.Join(shelf.store.Dir(), "papers")); err == nil {
		t.Error("a file without a token was kept")
	}
}

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
