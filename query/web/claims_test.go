package web

import (
	"html"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
)

// claimOn returns the first claim of a paper on a factor.
func claimOn(t *testing.T, shelf *testShelf, paper string, f evidence.Factor) evidence.Claim {
	t.Helper()
	claims, err := shelf.store.Claims(t.Context(), store.Filter{Paper: paper, Factors: []evidence.Factor{f}, Rejected: true})
	if err != nil || len(claims) == 0 {
		t.Fatalf("%s, %s: %d claims, %v", paper, f, len(claims), err)
	}
	return claims[0]
}

func TestDecide(t *testing.T) {
	s, shelf := testServer(t)
	c := claimOn(t, shelf, "birch1975", evidence.WarmTemperature)
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
		w := post(s, "/claims/"+c.ID, tt.form)
		if w.Code != tt.status {
			t.Errorf("%s: status %d, want %d\n%s", tt.name, w.Code, tt.status, w.Body)
		}
		now := claimOn(t, shelf, "birch1975", evidence.WarmTemperature)
		if now.Decision != tt.verdict {
			t.Errorf("%s: the claim is %q, want %q", tt.name, now.Decision, tt.verdict)
		}
		if page := html.UnescapeString(get(s, "/claims/"+c.ID).Body.String()); !strings.Contains(page, tt.shows) {
			t.Errorf("%s: the page does not show %q", tt.name, tt.shows)
		}
	}
	if now := claimOn(t, shelf, "birch1975", evidence.WarmTemperature); now.Stage != evidence.StageEmergence || now.Bearing != evidence.Prevents || *now.Low < 9.9 || *now.Low > 10.1 {
		t.Errorf("amended to %+v", now)
	}
	if w := post(s, "/claims/ffff", url.Values{"do": {"accept"}}); w.Code != http.StatusNotFound {
		t.Errorf("a claim that is not there: status %d", w.Code)
	}
}

// A form sent unchanged amends nothing: the numbers stay as they were read.
func TestAmendKeepsWhatWasLeft(t *testing.T) {
	c := evidence.Claim{Factor: evidence.WarmTemperature, Bearing: evidence.Favours, Low: num(12), High: num(15), Unit: "degC", Printed: "between 12 and 15",
		Taxon: "Ficta umbrosa", Secondhand: true, Cited: "(Alder 1960)", Inferred: true}
	was := c
	err := amend(&c, url.Values{"was": {c.Printed}, "printed": {c.Printed}, "factor": {string(c.Factor)}, "bearing": {string(c.Bearing)},
		"taxon": {c.Taxon}, "cited": {c.CitedSource()}})
	if err != nil || c != was {
		t.Errorf("%+v, %v", c, err)
	}
}

func TestClaimBesideItsPage(t *testing.T) {
	s, shelf := testServer(t)
	first := claimOn(t, shelf, "birch1975", evidence.Drying)
	second := claimOn(t, shelf, "birch1975", evidence.WarmTemperature)
	page := get(s, "/claims/"+first.ID).Body.String()
	for _, want := range []string{"<mark>No drying was needed</mark>", `rel="next" href="/claims/` + second.ID, "1 of 2", `name="token" value="` + s.token, "only a PDF has printed pages"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
}

func TestDisagreement(t *testing.T) {
	s, _ := testServer(t)
	page := get(s, "/species/Ficta%20umbrosa/disagreements/ficta-umbrosa:drying:need").Body.String()
	for _, want := range []string{"The eggs must dry", "No drying was needed", "Alder 1960", "Birch 1961", "What could explain it", "/trials/plan?disagreement=ficta-umbrosa%3Adrying%3Aneed"} {
		if !strings.Contains(page, want) {
			t.Errorf("the disagreement lacks %q", want)
		}
	}
	if w := get(s, "/species/Ficta%20umbrosa/disagreements/none"); w.Code != http.StatusNotFound {
		t.Errorf("no such disagreement: status %d", w.Code)
	}
}

func TestSearch(t *testing.T) {
	s, _ := testServer(t)
	found := get(s, "/search?words=moss").Body.String()
	if !strings.Contains(found, "<mark>moss</mark>") || !strings.Contains(found, `href="/papers/birch1975/pages/1?words=moss"`) {
		t.Errorf("the search shows no marked page:\n%s", found)
	}
	if page := get(s, "/papers/birch1975/pages/1?words=moss").Body.String(); !strings.Contains(page, "<mark>moss</mark>") {
		t.Error("the page's text does not mark the word")
	}
	for at, want := range map[string]int{"/search": 200, "/search?words=the": 400, "/search?words=moss&from=x": 400, "/search?words=moss&factor=x": 400,
		"/search?words=" + strings.Repeat("a", mostWords+1): 400, "/search?words=unheardof": 200} {
		if w := get(s, at); w.Code != want {
			t.Errorf("%.40s: status %d, want %d", at, w.Code, want)
		}
	}
}

func TestBare(t *testing.T) {
	for cited, want := range map[string]string{
		"(Alder 1960)": "Alder 1960", "(Alder 1960; Birch 1961)": "Alder 1960; Birch 1961",
		"Alder (1960)": "Alder (1960)", "(Alder) (1960)": "(Alder) (1960)", "": "",
	} {
		if got := bare(cited); got != want {
			t.Errorf("%q is shown as %q, want %q", cited, got, want)
		}
	}
}
