package web_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"hatchlore/evidence/store"
	"hatchlore/query/web/webtest"
)

// everyView is the address of each view in which a paper's words can stand.
func everyView(t *testing.T, page *webtest.Page) []string {
	t.Helper()
	out := []string{"/", "/papers", "/add", "/trials", "/lots", "/plan?taxon=" + url.QueryEscape(webtest.Hostile), "/search?words=" + url.QueryEscape("hatched alert"), "/search?words=" + url.QueryEscape(webtest.Hostile),
		"/species/" + url.PathEscape(webtest.Hostile), "/species/Ficta", "/species/" + url.PathEscape("Nobody "+webtest.Hostile), "/nothing/" + url.PathEscape(webtest.Hostile),
		"/papers/" + url.PathEscape(webtest.Hostile), "/claims/" + url.PathEscape(webtest.Hostile)}
	for _, p := range webtest.Papers {
		out = append(out, "/papers/"+p.Key, "/papers/"+p.Key+"/pages/1", "/papers/"+p.Key+"/pages/1?words="+url.QueryEscape(webtest.Hostile))
	}
	claims, err := page.Store.Claims(t.Context(), store.Filter{})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range claims {
		out = append(out, "/claims/"+c.ID, "/claims/"+c.ID+"?zoom="+url.QueryEscape(webtest.Hostile))
	}
	return out
}

// Whatever a PDF brings in its title, its authors, its text or its names, and
// whatever an address asks for, stands on the page as text.
func TestHostileWordsAreText(t *testing.T) {
	p := webtest.New(t)
	claims, err := p.Store.Claims(t.Context(), store.Filter{Paper: "mallory1999"})
	if err != nil || len(claims) == 0 {
		t.Fatalf("%d claims, %v", len(claims), err)
	}
	if w := p.Post("/claims/"+claims[0].ID, url.Values{"do": {"accept"}, "reason": {webtest.Hostile}}); w.Code != http.StatusSeeOther {
		t.Fatalf("accepting: status %d\n%s", w.Code, w.Body)
	}
	shown := 0
	for _, at := range everyView(t, p) {
		w := p.Get(at)
		if w.Code >= http.StatusInternalServerError {
			t.Errorf("%s: status %d", at, w.Code)
		}
		body := w.Body.String()
		shown += strings.Count(body, "&lt;script&gt;alert(")
		checkMarkup(t, at, body)
	}
	// The test means something only where the words are on the pages.
	if shown < 20 {
		t.Errorf("the hostile words stand on the pages %d times only", shown)
	}
}

var scripted = regexp.MustCompile(`(?i)^\s*(javascript|data|vbscript):`)

// checkMarkup looks for what only a template could have put there, and then
// for what none does.
func checkMarkup(t *testing.T, at, body string) {
	t.Helper()
	z := html.NewTokenizer(strings.NewReader(body))
	for {
		kind := z.Next()
		if kind == html.ErrorToken {
			return
		}
		token := z.Token()
		if kind != html.StartTagToken && kind != html.SelfClosingTagToken {
			continue
		}
		src := ""
		for _, a := range token.Attr {
			if strings.HasPrefix(a.Key, "on") || a.Key == "style" {
				t.Errorf("%s: <%s> has %s=%q", at, token.Data, a.Key, a.Val)
			}
			if (a.Key == "href" || a.Key == "src" || a.Key == "action") && scripted.MatchString(a.Val) {
				t.Errorf("%s: <%s> leads to %q", at, token.Data, a.Val)
			}
			if a.Key == "src" {
				src = a.Val
			}
		}
		if token.Data == "script" && !strings.HasPrefix(src, "/static/") || token.Data == "img" || token.Data == "style" || token.Data == "iframe" {
			t.Errorf("%s: <%s src=%q> stands on the page", at, token.Data, src)
		}
	}
}
