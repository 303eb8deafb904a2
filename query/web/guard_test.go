package web_test

import (
	"io"
	"net/http/httptest"
	"strings"
	"testing"

	"hatchlore/query/web/webtest"
)

// maxForm bounds what may be read of a body that is refused.
const maxForm = 1 << 20

// endless is a body that says it is a gigabyte and has no end.
type endless struct{ read int64 }

func (e *endless) Read(p []byte) (int, error) {
	e.read += int64(len(p))
	for i := range p {
		p[i] = 'a'
	}
	return len(p), nil
}

func TestForeignRequestsAreRefused(t *testing.T) {
	p := webtest.New(t)
	for name, tt := range map[string]struct {
		method, at, host, body string
		headers                map[string]string
		want                   int
	}{
		"own":                    {"GET", "/", webtest.Host, "", nil, 200},
		"another host":           {"GET", "/", "evil.example", "", nil, 421},
		"own host, another port": {"GET", "/", "127.0.0.1:1", "", nil, 421},
		"a name that leads here": {"GET", "/", "rebound.example:8460", "", nil, 421},
		"no host":                {"GET", "/", "", "", nil, 421},
		"another origin":         {"POST", "/claims/x", webtest.Host, "token=" + p.Token, map[string]string{"Origin": "http://evil.example"}, 403},
		"origin null":            {"POST", "/claims/x", webtest.Host, "token=" + p.Token, map[string]string{"Origin": "null"}, 403},
		"another site":           {"POST", "/claims/x", webtest.Host, "token=" + p.Token, map[string]string{"Sec-Fetch-Site": "cross-site"}, 403},
		"no token":               {"POST", "/claims/x", webtest.Host, "", map[string]string{"Origin": "http://" + webtest.Host}, 403},
		"a wrong token":          {"POST", "/claims/x", webtest.Host, "token=guess", map[string]string{"Origin": "http://" + webtest.Host}, 403},
		"a token in the address": {"POST", "/claims/x?token=" + p.Token, webtest.Host, "", nil, 403},
		"another method":         {"DELETE", "/claims/x", webtest.Host, "", nil, 405},
		"out of static":          {"GET", "/static/..%2ftemplates%2flayout.html", webtest.Host, "", nil, 404},
		"far out of static":      {"GET", "/static/..%2f..%2f..%2fgo.mod", webtest.Host, "", nil, 404},
		"a species of dots":      {"GET", "/species/..%2f..%2fetc%2fpasswd", webtest.Host, "", nil, 404},
	} {
		t.Run(name, func(t *testing.T) {
			r := httptest.NewRequest(tt.method, tt.at, strings.NewReader(tt.body))
			r.Host = tt.host
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			for k, v := range tt.headers {
				r.Header.Set(k, v)
			}
			w := httptest.NewRecorder()
			p.ServeHTTP(w, r)
			if w.Code != tt.want {
				t.Errorf("status %d, want %d", w.Code, tt.want)
			}
		})
	}
}

// A body of a gigabyte is refused by its length, and one that hides its length
// where it passes the bound; papers without a token before any is read.
func TestLargeBodiesAreRefused(t *testing.T) {
	p := webtest.New(t)
	const part = "--b\r\nContent-Disposition: form-data; name=\"papers\"; filename=\"a.pdf\"\r\n\r\n"
	for _, tt := range []struct {
		at, kind, head string
		length         int64
		status         int
	}{
		{"/claims/x", "application/x-www-form-urlencoded", "", 1 << 30, 413},
		{"/claims/x", "application/x-www-form-urlencoded", "", -1, 413},
		{"/add", "multipart/form-data; boundary=b", part, 1 << 30, 413},
		{"/add", "multipart/form-data; boundary=b", part, -1, 403},
	} {
		rest := &endless{}
		r := httptest.NewRequest("POST", tt.at, io.NopCloser(io.MultiReader(strings.NewReader(tt.head), rest)))
		r.Host, r.ContentLength = webtest.Host, tt.length
		r.Header.Set("Content-Type", tt.kind)
		r.Header.Set("Origin", "http://"+webtest.Host)
		w := httptest.NewRecorder()
		p.ServeHTTP(w, r)
		if w.Code != tt.status {
			t.Errorf("%s, length %d: status %d, want %d", tt.at, tt.length, w.Code, tt.status)
		}
		if rest.read > 2*maxForm {
			t.Errorf("%s, length %d: %d bytes were read", tt.at, tt.length, rest.read)
		}
	}
}

// Every answer, refusals too, brings the policy that keeps foreign script out.
func TestPolicy(t *testing.T) {
	p := webtest.New(t)
	for _, at := range []string{"/", "/species/Ficta", "/nothing", "/static/page.css"} {
		w := p.Get(at)
		got := w.Header().Get("Content-Security-Policy")
		if !strings.Contains(got, "default-src 'none'") || strings.Contains(got, "unsafe") {
			t.Errorf("%s: policy %q", at, got)
		}
		if w.Header().Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s: the kind of the answer may be guessed at", at)
		}
		if body := w.Body.String(); strings.Contains(body, "style=\"") || strings.Contains(body, "<style") || strings.Contains(body, " onclick") {
			t.Errorf("%s: style or script inside the page", at)
		}
	}
}
