package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"hatchlore/ingest/pdf/pdftest"
)

// hostileWords are what a PDF may bring as its title, author or text.
const hostileWords = `<script>alert(1)</script><img src=x onerror=alert(2)>"'><svg/onload=alert(3)>`

// hostilePDF is a PDF of one page (ISO 32000-1) whose title and text hold
// markup, with a statement about hatching in it.
func hostilePDF() []byte {
	lines := []string{hostileWords + " Quennocaris pallidipes", "Mallory " + hostileWords, "Results", hostileWords}
	for n := range 12 {
		lines = append(lines, fmt.Sprintf("In dish %d the eggs of Quennocaris pallidipes hatched at %d degrees C %s after they were wetted.", n+1, n+4, "<b>soon</b>"))
	}
	lines = append(lines, "The eggs must be dry before they hatch <script>alert(4)</script> and hatching began at 8 °C after flooding with cold water.")
	escape := strings.NewReplacer(`\`, `\\`, "(", `\(`, ")", `\)`, "°", `\260`)
	var page strings.Builder
	page.WriteString("BT /F1 9 Tf 40 780 Td 14 TL\n")
	for _, l := range lines {
		fmt.Fprintf(&page, "(%s) Tj T*\n", escape.Replace(l))
	}
	page.WriteString("ET")
	return pdftest.Write([]pdftest.Object{
		{Dict: "/Type /Catalog /Pages 2 0 R"},
		{Dict: "/Type /Pages /Kids [3 0 R] /Count 1"},
		{Dict: "/Type /Page /Parent 2 0 R /MediaBox [0 0 900 842] /Contents 4 0 R /Resources <</Font <</F1 5 0 R>>>>"},
		{Stream: []byte(page.String())},
		{Dict: "/Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding"},
		{Dict: fmt.Sprintf("/Title (%s) /Author (%s)", escape.Replace(hostileWords), escape.Replace(hostileWords))},
	}, "/Info 6 0 R")
}

// served is a page that runs for a test.
type served struct {
	t    *testing.T
	home string // address without a slash at the end
	end  func()
}

// serveLibrary runs 'hatchlore serve' on the library of the environment.
func serveLibrary(t *testing.T) *served {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	said, stdout := io.Pipe()
	done := make(chan int, 1)
	var stderr bytes.Buffer
	go func() {
		status := run(ctx, []string{"serve", "--listen", "127.0.0.1:0"}, strings.NewReader(""), stdout, &stderr)
		stdout.Close()
		done <- status
	}()
	line := make([]byte, 400)
	n, err := said.Read(line)
	go io.Copy(io.Discard, said)
	home := regexp.MustCompile(`http://[^/]+`).FindString(string(line[:n]))
	if err != nil || home == "" {
		t.Fatalf("serve says %q, %v; %s", line[:n], err, stderr.String())
	}
	s := &served{t: t, home: home}
	s.end = func() {
		cancel()
		select {
		case status := <-done:
			if status != statusDone {
				t.Errorf("serve ended with %d: %s", status, stderr.String())
			}
		case <-time.After(20 * time.Second):
			t.Error("serve does not end")
		}
	}
	return s
}

// get returns the status and body at an address of the page.
func (s *served) get(at string) (int, string) {
	s.t.Helper()
	resp, err := http.Get(s.home + at)
	if err != nil {
		s.t.Fatal(err)
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		s.t.Fatal(err)
	}
	return resp.StatusCode, string(body)
}

// crawl asks for every address that the pages lead to, and returns the bodies.
func (s *served) crawl(most int) map[string]string {
	s.t.Helper()
	links := regexp.MustCompile(`(?:href|src)="(/[^"#]*)`)
	out, queue := map[string]string{}, []string{"/", "/search?words=hatch"}
	for len(queue) > 0 && len(out) < most {
		at := queue[0]
		queue = queue[1:]
		if _, seen := out[at]; seen {
			continue
		}
		status, body := s.get(at)
		if status != http.StatusOK && !strings.HasPrefix(at, "/trials") {
			s.t.Errorf("%s: status %d", at, status)
		}
		out[at] = body
		for _, m := range links.FindAllStringSubmatch(body, -1) {
			queue = append(queue, strings.ReplaceAll(m[1], "&amp;", "&"))
		}
	}
	return out
}

// send adds a file with the form on the page and waits until it is read.
func (s *served) send(name string, data []byte) string {
	s.t.Helper()
	_, page := s.get("/add")
	token := regexp.MustCompile(`name="token" value="([^"]+)"`).FindStringSubmatch(page)
	if token == nil {
		s.t.Fatal("the form has no token")
	}
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	_ = form.WriteField("token", token[1]) // writing to memory does not fail
	f, err := form.CreateFormFile("papers", name)
	if err != nil {
		s.t.Fatal(err)
	}
	_, _ = f.Write(data)
	form.Close()
	resp, err := http.Post(s.home+"/add", form.FormDataContentType(), &body)
	if err != nil {
		s.t.Fatal(err)
	}
	resp.Body.Close()
	for range 600 {
		if _, page = s.get("/add"); strings.Contains(page, "1 file done") {
			return page
		}
		time.Sleep(100 * time.Millisecond)
	}
	s.t.Fatalf("the paper is not read after a minute:\n%s", page)
	return ""
}

// A PDF with markup in all its words, added with the page's own form, stands
// as text on every page that can be reached; the command line works beside the
// page.
func TestServeHostilePDF(t *testing.T) {
	t.Setenv("HATCHLORE_LIBRARY", filepath.Join(t.TempDir(), "library"))
	s := serveLibrary(t)
	defer s.end()
	if page := s.send(`<script>alert(9)<.pdf`, hostilePDF()); !strings.Contains(page, ">added<") {
		t.Fatalf("the paper is not added:\n%s", page)
	}
	if page := s.send("broken.pdf", []byte("%PDF-1.4\nnothing more")); !strings.Contains(page, ">refused<") {
		t.Errorf("a broken paper is not refused:\n%s", page)
	}
	pages := s.crawl(200)
	shown := 0
	for at, body := range pages {
		if strings.HasPrefix(at, "/static/") || strings.Contains(at, "/picture") {
			continue
		}
		shown += strings.Count(body, "&lt;script&gt;")
		for _, live := range []string{"<script>", "<img", "<svg/onload", "<b>soon"} {
			if strings.Contains(body, live) {
				t.Errorf("%s: %s stands on the page as markup", at, live)
			}
		}
	}
	t.Logf("%d addresses; the words stand there %d times", len(pages), shown)
	if len(pages) < 20 || shown < 20 {
		t.Errorf("%d addresses and %d places: too few to mean anything", len(pages), shown)
	}

	paper := filepath.Join(t.TempDir(), "beside.txt")
	if err := os.WriteFile(paper, []byte("On Quennocaris pallidipes\n\nThe eggs of Quennocaris pallidipes hatched at 6 °C.\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"ingest", paper}, {"query", "hatched"}, {"check"}} {
		var stdout, stderr bytes.Buffer
		if status := run(t.Context(), args, strings.NewReader(""), &stdout, &stderr); status != statusDone {
			t.Errorf("hatchlore %v beside the page: status %d, %s", args, status, stderr.String())
		}
	}
	if _, body := s.get("/papers"); !strings.Contains(body, "On Quennocaris pallidipes") {
		t.Error("a paper that the command line added is not on the page")
	}
}
