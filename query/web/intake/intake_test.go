package intake_test

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

	"hatchlore/query/web/address"
	"hatchlore/query/web/guard"
	"hatchlore/query/web/webtest"
)

// sendPapers sends a form with files; token goes first.
func sendPapers(t *testing.T, p *webtest.Page, token string, files map[string]string) *httptest.ResponseRecorder {
	t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	if err := form.WriteField(guard.TokenField, token); err != nil {
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
	r := httptest.NewRequest(http.MethodPost, address.Add, &body)
	r.Host = webtest.Host
	r.Header.Set("Content-Type", form.FormDataContentType())
	r.Header.Set("Origin", "http://"+webtest.Host)
	w := httptest.NewRecorder()
	p.ServeHTTP(w, r)
	return w
}

// settled waits until the papers sent are read.
func settled(t *testing.T, p *webtest.Page) {
	t.Helper()
	for range 500 {
		if !strings.Contains(p.Get(address.Add).Body.String(), `http-equiv="refresh"`) {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatal("the papers are not read after five seconds")
}

func TestAddPapers(t *testing.T) {
	p := webtest.New(t)
	w := sendPapers(t, p, p.Token, map[string]string{
		"good.pdf": "a paper", "bad.pdf": "this is no paper", "picture.png": "x", "../../../escape.txt": "up and away", "empty.pdf": "",
	})
	if w.Code != http.StatusSeeOther {
		t.Fatalf("status %d\n%s", w.Code, w.Body)
	}
	settled(t, p)
	page := p.Get("/add").Body.String()
	for _, want := range []string{"good.pdf", "whatever its name says", "is no paper: papers are", "is empty"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	folder := filepath.Join(p.Store.Dir(), "papers")
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
	p := webtest.New(t)
	for _, text := range []string{"one", "two", "one"} {
		if w := sendPapers(t, p, p.Token, map[string]string{"a.pdf": text}); w.Code != http.StatusSeeOther {
			t.Fatalf("status %d", w.Code)
		}
		settled(t, p)
	}
	for name, want := range map[string]string{"a.pdf": "one", "a-2.pdf": "two"} {
		if got, err := os.ReadFile(filepath.Join(p.Store.Dir(), "papers", name)); err != nil || string(got) != want {
			t.Errorf("%s: %q, %v", name, got, err)
		}
	}
	if _, err := os.Stat(filepath.Join(p.Store.Dir(), "papers", "a-3.pdf")); err == nil {
		t.Error("one paper is kept twice")
	}
}

func TestAddWithoutToken(t *testing.T) {
	p := webtest.New(t)
	if w := sendPapers(t, p, "guess", map[string]string{"a.pdf": "one"}); w.Code != http.StatusForbidden {
		t.Errorf("status %d", w.Code)
	}
	if _, err := os.Stat(filepath.Join(p.Store.Dir(), "papers")); err == nil {
		t.Error("a file without a token was kept")
	}
}
