package literature_test

import (
	"html"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"hatchlore/evidence"
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
		{"reject without a reason", url.Values{"do": {"reject"}}, 400, evidence.Accepted, ""},
		{"reject", url.Values{"do": {"reject"}, "reason": {"of another animal"}}, 303, evidence.Rejected, "of another animal"},
		{"undo", url.Values{"do": {"undo"}}, 303, evidence.Undecided, "taken back"},
		{"amend", amended, 303, evidence.Amended, "10 °C"},
		{"amend to what is no temperature", with("printed", "30 days"), 400, evidence.Amended, "10 °C"},
		{"amend to no factor", with("factor", "moonlight"), 400, evidence.Amended, "10 °C"},
		{"amend to no bearing", with("bearing", "perhaps"), 400, evidence.Amended, "10 °C"},
		{"nothing", url.Values{}, 400, evidence.Amended, ""},
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
	if page := p.Get("/papers/birch1975/pages/1?words=moss").Body.String(); !strings.Contains(page, "<mark>moss</mark>") {
		t.Error("the page's text does not mark the word")
	}
	for at, want := range map[string]int{"/search": 200, "/search?words=the": 400, "/search?words=moss&from=x": 400, "/search?words=moss&factor=x": 400,
		"/search?words=" + strings.Repeat("a", 301): 400, "/search?words=unheardof": 200} {
		if w := p.Get(at); w.Code != want {
			t.Errorf("%.40s: status %d, want %d", at, w.Code, want)
		}
	}
}
