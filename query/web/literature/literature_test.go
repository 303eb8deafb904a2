package literature_test

import (
	"html"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/ingest"
	"hatchlore/query/web/webtest"
)

func TestSpecies(t *testing.T) {
	p := webtest.New(t)
	list := p.Get("/").Body.String()
	if !strings.Contains(list, `<a href="/species/Ficta%20umbrosa">`) {
		t.Errorf("the list lacks the species:\n%s", list)
	}
	page := p.Get("/species/f.%20umbrosa")
	for _, want := range []string{"Ficta umbrosa", "Alder 1960", "They hatched at 8 °C", "Must the eggs dry", "Before you act", "permit", `role="img" aria-label="12–15 °C, favours"`} {
		if !strings.Contains(html.UnescapeString(page.Body.String()), want) {
			t.Errorf("the species' page lacks %q", want)
		}
	}
	if warm := p.Get("/species/Ficta%20umbrosa?degrees=degF"); !strings.Contains(warm.Body.String(), "46.4 °F") {
		t.Error("8 °C is not shown as 46.4 °F")
	}
	if none := p.Get("/species/Ficto%20umbrosa"); none.Code != http.StatusNotFound || !strings.Contains(none.Body.String(), "Ficta umbrosa") {
		t.Errorf("a misspelt name: status %d, or the near name is not offered", none.Code)
	}
}

func TestDecide(t *testing.T) {
	p := webtest.New(t)
	c := p.ClaimOn(t, "birch1975", evidence.WarmTemperature)
	amended := url.Values{"do": {"amend"}, "was": {"12 to 15 °C"}, "printed": {"50 °F"}, "factor": {"incubation-temperature"},
		"bearing": {"prevents"}, "category": {""}, "stage": {"emergence"}, "taxon": {"Ficta umbrosa"}, "cited": {""}, "reason": {"the table says so"}}
	with := func(name, value string) url.Values {
		out := url.Values{}
		for k, v := range amended {
			out[k] = v
		}
		out.Set(name, value)
		return out
	}
	for _, tt := range []struct {
		name    string
		form    url.Values
		status  int
		verdict evidence.Verdict
		shows   string
	}{
		{"accept", url.Values{"do": {"accept"}}, 303, evidence.Accepted, "accepted"},
		{"reject without a reason", url.Values{"do": {"reject"}}, 422, evidence.Accepted, ""},
		{"reject", url.Values{"do": {"reject"}, "reason": {"of another animal"}}, 303, evidence.Rejected, "of another animal"},
		{"undo", url.Values{"do": {"undo"}}, 303, evidence.Undecided, "taken back"},
		{"amend", amended, 303, evidence.Amended, "10 °C"},
		{"amend to what is no temperature", with("printed", "30 days"), 422, evidence.Amended, "10 °C"},
		{"amend to no factor", with("factor", "moonlight"), 422, evidence.Amended, "10 °C"},
		{"amend to no bearing", with("bearing", "perhaps"), 422, evidence.Amended, "10 °C"},
		{"nothing", url.Values{}, 422, evidence.Amended, ""},
	} {
		w := p.Post("/claims/"+c.ID, tt.form)
		if w.Code != tt.status {
			t.Errorf("%s: status %d, want %d\n%s", tt.name, w.Code, tt.status, w.Body)
		}
		now := p.ClaimOn(t, "birch1975", evidence.WarmTemperature)
		if now.Decision != tt.verdict {
			t.Errorf("%s: the claim is %q, want %q", tt.name, now.Decision, tt.verdict)
		}
		if page := html.UnescapeString(p.Get("/claims/" + c.ID).Body.String()); !strings.Contains(page, tt.shows) {
			t.Errorf("%s: the page does not show %q", tt.name, tt.shows)
		}
	}
	if now := p.ClaimOn(t, "birch1975", evidence.WarmTemperature); now.Stage != evidence.StageEmergence || now.Bearing != evidence.Prevents || *now.Low < 9.9 || *now.Low > 10.1 {
		t.Errorf("amended to %+v", now)
	}
	if w := p.Post("/claims/ffff", url.Values{"do": {"accept"}}); w.Code != http.StatusNotFound {
		t.Errorf("a claim that is not there: status %d", w.Code)
	}
}

func TestClaimBesideItsPage(t *testing.T) {
	p := webtest.New(t)
	first := p.ClaimOn(t, "birch1975", evidence.Drying)
	second := p.ClaimOn(t, "birch1975", evidence.WarmTemperature)
	page := p.Get("/claims/" + first.ID).Body.String()
	for _, want := range []string{"<mark>No drying was needed</mark>", `rel="next" href="/claims/` + second.ID, "1 of 2", `name="token" value="` + p.Token, "only a PDF has printed pages"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
}

// Whom a claim follows is told with whether the work is in the library.
func TestClaimOfAnothers(t *testing.T) {
	p := webtest.New(t)
	c := p.ClaimOn(t, "birch1975", evidence.Drying)
	for cited, want := range map[string]string{
		"Alder 1960":            `Second-hand, after <a href="/papers/alder1960">Alder 1960</a>, in the library`,
		"Fern 1950; Alder 1960": `Second-hand, after Fern 1950, not in the library; after <a href="/papers/alder1960">Alder 1960</a>, in the library`,
		"J. Fern, a letter":     `Second-hand, after J. Fern, a letter`,
	} {
		if w := p.Post("/claims/"+c.ID, url.Values{"do": {"amend"}, "factor": {string(c.Factor)}, "bearing": {string(c.Bearing)}, "category": {c.Category},
			"taxon": {c.Taxon}, "cited": {cited}}); w.Code != http.StatusSeeOther {
			t.Fatalf("%s: status %d\n%s", cited, w.Code, w.Body)
		}
		if page := p.Get("/claims/" + c.ID).Body.String(); !strings.Contains(page, want) {
			t.Errorf("%s: the page lacks %s", cited, want)
		}
	}
}

func TestDisagreement(t *testing.T) {
	p := webtest.New(t)
	page := p.Get("/species/Ficta%20umbrosa/disagreements/ficta-umbrosa:drying:need").Body.String()
	for _, want := range []string{"The eggs must dry", "No drying was needed", "Alder 1960", "Birch 1961", "What could explain it", "/plan?disagreement=ficta-umbrosa%3Adrying%3Aneed"} {
		if !strings.Contains(page, want) {
			t.Errorf("the disagreement lacks %q", want)
		}
	}
	if w := p.Get("/species/Ficta%20umbrosa/disagreements/none"); w.Code != http.StatusNotFound {
		t.Errorf("no such disagreement: status %d", w.Code)
	}
}

func TestSearch(t *testing.T) {
	p := webtest.New(t)
	found := p.Get("/search?words=moss").Body.String()
	if !strings.Contains(found, "<mark>moss</mark>") || !strings.Contains(found, `href="/papers/birch1975/pages/1?words=moss"`) {
		t.Errorf("the search shows no marked page:\n%s", found)
	}
	if page := p.Get("/papers/birch1975/pages/1?words=moss+unheard").Body.String(); !strings.Contains(page, `<mark id="first-mark">moss</mark>`) || !strings.Contains(page, "Words marked") {
		t.Error("the page's text does not mark the word")
	}
	for at, want := range map[string]int{"/search": 200, "/search?words=the": 400, "/search?words=moss&from=x": 400, "/search?words=moss&factor=x": 400,
		"/search?words=" + strings.Repeat("a", 301): 400, "/search?words=unheardof": 200} {
		if w := p.Get(at); w.Code != want {
			t.Errorf("%.40s: status %d, want %d", at, w.Code, want)
		}
	}
}

// What was not found, or cannot be asked, is said in the search, with what may be
// meant.
func TestSearchSaysWhatItLacks(t *testing.T) {
	p := webtest.New(t)
	unread := store.Paper{Key: "scan", Hash: strings.Repeat("f", 64), Source: "/scan.pdf", Format: "pdf", Pages: []ingest.Page{{Number: 1, How: ingest.Unread, Why: "no text"}}}
	if _, err := p.Store.Put(t.Context(), unread, nil); err != nil {
		t.Fatal(err)
	}
	if page := p.Get("/search?words=moss+heath+unheard").Body.String(); strings.Contains(page, "<s>unheard</s>") {
		t.Error("what no page has is said at every page")
	}
	for at, wants := range map[string][]string{
		"/search?words=moss+heath+unheard":           {"No page has all of this.", "No page of the library has “unheard”.", "<mark>moss</mark>"},
		"/search?words=moss+fen":                     {"The words stand on different pages.", "without <s>moss</s>", "without <s>fen</s>"},
		"/search?words=unheard":                      {"No page has these words.", "Not searched: 1 page could not be read."},
		"/search?words=moss&from=1990":               {"No page has this together within what it is narrowed down to."},
		"/search?words=fictta+moss":                  {`<a href="/search?words=Ficta%20moss">Ficta</a> <small>for fictta</small>`},
		"/search?words=***":                          {`role="alert">The question asks for nothing: give at least one word to find.`, `value="***"`, "<details class=\"how-to\" open"},
		"/search?factor=drying":                      {"The question asks for nothing"},
		"/search?words=moss&from=x":                  {"A year is a number", `value="moss"`, "<details open><summary>Narrow"},
		"/search?words=" + strings.Repeat("µ", 301):  {"at most 300 characters, not 301"},
		"/search?words=" + strings.Repeat("µ+", 149): {"No page has these words."},
		"/papers/birch1975/pages/1?words=fen":        {"Not on this page: <b>fen</b>"},
		"/papers/birch1975/pages/1?words=***":        {"Not on this page"},
	} {
		page := p.Get(at).Body.String()
		for _, want := range wants {
			if !strings.Contains(page, want) {
				t.Errorf("%.50s lacks %s", at, want)
			}
		}
	}
}

// What cannot be decided is said beside what was typed, and nothing is lost.
func TestRefusedDecisionKeepsWhatWasTyped(t *testing.T) {
	p := webtest.New(t)
	c := p.ClaimOn(t, "birch1975", evidence.WarmTemperature)
	w := p.Post("/claims/"+c.ID, url.Values{"do": {"amend"}, "was": {"12 to 15 °C"}, "printed": {"30 days"}, "factor": {"incubation-temperature"},
		"bearing": {"prevents"}, "taxon": {"Ficta <alba>"}, "reason": {"the table <says> so"}})
	body := html.UnescapeString(w.Body.String())
	for _, want := range []string{`role="alert"`, `value="30 days"`, "the table <says> so</textarea>", `value="Ficta <alba>"`, "<details open><summary>Amend", "<option selected>prevents"} {
		if !strings.Contains(body, want) {
			t.Errorf("status %d, the page lacks %s", w.Code, want)
		}
	}
	if w := p.Post("/claims/"+c.ID, url.Values{"do": {"accept"}, "reason": {"looked"}}); w.Header().Get("Location") != "/claims/"+c.ID+"#decided" {
		t.Errorf("a decision leads to %s", w.Header().Get("Location"))
	}
	if page := p.Get("/claims/" + c.ID).Body.String(); !strings.Contains(page, `id="decided" tabindex="-1"><b>Accepted</b>: looked`) {
		t.Error("the page does not tell the decision where it leads to")
	}
}

// A name is read as another from the page, and as itself again.
func TestNames(t *testing.T) {
	p := webtest.New(t)
	read := func(fields url.Values, status int, place string) {
		t.Helper()
		w := p.Post("/names", fields)
		if w.Code != status || w.Header().Get("Location") != place {
			t.Errorf("%v: status %d, leads to %q\n%s", fields, w.Code, w.Header().Get("Location"), w.Body)
		}
	}
	read(url.Values{"old": {"Ficta umbrosa"}, "new": {" "}}, 400, "")
	read(url.Values{"old": {"Ficta umbrosa"}, "new": {"ficta umbrosa"}}, 400, "")
	read(url.Values{"old": {"Ficta umbrosa"}, "new": {"Novaficta  umbrosa"}, "reason": {"moved"}}, 303, "/species/Novaficta%20umbrosa#names")
	page := html.UnescapeString(p.Get("/species/Novaficta%20umbrosa").Body.String())
	for _, want := range []string{"<i>Ficta umbrosa</i> is read as this: moved", "They hatched at 8 °C", `value="release"`, "No paper of the library has a claim on <i>Novaficta umbrosa</i> under this name yet"} {
		if !strings.Contains(page, want) {
			t.Errorf("the species' page lacks %q", want)
		}
	}
	if !strings.Contains(page, "has a claim on <i>Novaficta umbrosa</i> under this name yet") || strings.Contains(page, "has a claim on it yet") {
		t.Error("that no paper has the new name is not told, or told of the old one")
	}
	read(url.Values{"old": {"Fictoo umbrosa"}, "new": {"Ficta umbrosa"}}, 303, "/species/Ficta%20umbrosa#names")
	if page := html.UnescapeString(p.Get("/species/Novaficta%20umbrosa").Body.String()); !strings.Contains(page, "<i>Fictoo umbrosa</i> is read as <i>Ficta umbrosa</i>; no paper of the library has a claim on it yet") {
		t.Error("a name that is read as this one over another cannot be taken back here")
	}
	read(url.Values{"old": {"Fictoo umbrosa"}, "new": {"Ficta umbrosa"}, "do": {"release"}}, 303, "/species/Ficta%20umbrosa#names")
	read(url.Values{"old": {"Ficta umbrosa"}, "do": {"release"}}, 303, "/species/Ficta%20umbrosa")
	if w := p.Get("/species/Ficta%20umbrosa"); w.Code != http.StatusOK || strings.Contains(w.Body.String(), "is read as this") || strings.Contains(w.Body.String(), "No paper of the library") {
		t.Errorf("read as itself again: status %d", w.Code)
	}
}

func TestHandedOn(t *testing.T) {
	p := webtest.New(t)
	sheet := p.Get("/species/Ficta%20umbrosa/sheet?paper=letter")
	if !strings.Contains(sheet.Header().Get("Content-Security-Policy"), "style-src 'sha256-") || !strings.Contains(sheet.Body.String(), "size: letter") {
		t.Errorf("the sheet: %v\n%s", sheet.Header(), sheet.Body)
	}
	if w := p.Get("/species/Ficta%20umbrosa/sheet?paper=foolscap"); w.Code != http.StatusBadRequest {
		t.Errorf("a sheet on foolscap: status %d", w.Code)
	}
	for at, want := range map[string]string{"/export.zip": "private false", "/export.zip?private=yes": "private true"} {
		w := p.Get(at)
		if !strings.Contains(w.Body.String(), want) || !strings.HasPrefix(w.Header().Get("Content-Disposition"), "attachment; filename*=UTF-8''hatchlore-") {
			t.Errorf("%s: %s, %v", at, w.Body, w.Header())
		}
	}
}

// A claim that is on no single species is told, and where it stands.
func TestUnnamedClaims(t *testing.T) {
	p := webtest.New(t)
	c := p.ClaimOn(t, "birch1975", evidence.WarmTemperature)
	if strings.Contains(p.Get("/").Body.String(), "On no single species") {
		t.Error("told where there is none")
	}
	c.Taxon = ""
	if _, err := p.Store.Decide(t.Context(), c.ID, store.Decision{Verdict: evidence.Amended, Amended: &c}); err != nil {
		t.Fatal(err)
	}
	if w := p.Get("/claims/" + c.ID); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), `<a href="/#unnamed">on no single species</a>`) || strings.Contains(w.Body.String(), `"/species/"`) {
		t.Errorf("its own page: status %d, or it leads to no species", w.Code)
	}
	if body := p.Get("/").Body.String(); !strings.Contains(body, "1 claim could be laid to no species") || !strings.Contains(body, `<a href="/papers/birch1975">`) {
		t.Errorf("not told:\n%s", body)
	}
}
