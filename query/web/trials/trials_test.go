package trials_test

import (
	"context"
	"fmt"
	"html"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/query/web/address"
	"hatchlore/query/web/webtest"
)

// keptTrial keeps a trial of the drying disagreement through the page's own form.
func keptTrial(t *testing.T, p *webtest.Page, more url.Values) *trial.Plan {
	t.Helper()
	fields := url.Values{"sent": {"1"}, "taxon": {"Ficta umbrosa"}, "disagreement": {"ficta-umbrosa:drying:need"}, "eggs": {"120"}, "dishes": {"8"},
		"when": {"trigger"}, "day": {"2026-05-01"}, "chambers": {"12"}, "seed": {"3"}, "name": {"spring"}, "look": {"2"}}
	for k, v := range more {
		fields[k] = v
	}
	w := p.Post("/trials", fields)
	if w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/trials/spring" {
		t.Fatalf("keeping a plan: %d, %s\n%s", w.Code, w.Header().Get("Location"), w.Body)
	}
	kept, err := p.Store.Trial(t.Context(), "spring")
	if err != nil {
		t.Fatal(err)
	}
	return kept.Plan
}

func TestPlanForm(t *testing.T) {
	p := webtest.New(t)
	fresh := html.UnescapeString(p.Get("/plan?taxon=Ficta+umbrosa&disagreement=ficta-umbrosa:drying:need").Body.String())
	for _, want := range []string{`value="ficta-umbrosa:drying:need" checked`, "how many eggs are on hand", "Before you act"} {
		if !strings.Contains(fresh, want) {
			t.Errorf("the fresh form lacks %q", want)
		}
	}
	at := "/plan?sent=1&taxon=Ficta+umbrosa&disagreement=ficta-umbrosa:drying:need&eggs=120&day=2026-04-01&chambers=12"
	offer := html.UnescapeString(p.Get(at).Body.String())
	for _, want := range []string{"eggs used", "Chance that the counts settle it", "What other numbers of eggs would buy", "Keep this plan", "this plan"} {
		if !strings.Contains(offer, want) {
			t.Errorf("the offer lacks %q", want)
		}
	}
	for query, says := range map[string]string{
		"eggs=few&day=2026-04-01":                      `"few" is no whole number`,
		"eggs=12&day=2026-04-01":                       "eggs",
		"eggs=120&day=1.4.2026":                        "is not a date",
		"eggs=120&day=2026-04-01&disagreement=nothing": "is none of the disagreements",
		"eggs=120&day=2026-04-01&lot=unheard":          "no such lot",
		"eggs=120&day=2026-04-01&factor=moon%3D12":     "is no factor",
	} {
		w := p.Get("/plan?sent=1&taxon=Ficta+umbrosa&disagreement=ficta-umbrosa:drying:need&" + query)
		if body := html.UnescapeString(w.Body.String()); w.Code != http.StatusOK || !strings.Contains(body, says) || !strings.Contains(body, "No plan yet") {
			t.Errorf("%s: status %d, lacks %q", query, w.Code, says)
		}
	}
	if near := p.Get("/plan?taxon=Ficto+umbrosa").Body.String(); !strings.Contains(near, "No paper of the library tells of this name") || !strings.Contains(near, `<a href="/plan?taxon=Ficta%20umbrosa">`) {
		t.Error("a misspelt name: the near one is not offered")
	}
	// A plan that cannot be made leads back to the form with what was typed.
	back := p.Post("/trials", url.Values{"sent": {"1"}, "taxon": {"Ficta umbrosa"}, "disagreement": {"ficta-umbrosa:drying:need"}, "eggs": {"few"}})
	if to := back.Header().Get("Location"); back.Code != http.StatusSeeOther || !strings.Contains(to, "eggs=few") || strings.Contains(to, p.Token) {
		t.Errorf("an impossible plan leads to %q, status %d", to, back.Code)
	}
	keptTrial(t, p, nil)
	page := html.UnescapeString(p.Get("/trials/spring").Body.String())
	for _, want := range []string{"/trials/spring/sheets?paper=letter", "calendar.ics", "Must the eggs dry", "On the strength of", "Remove this plan", "permit"} {
		if !strings.Contains(page, want) {
			t.Errorf("the plan's page lacks %q", want)
		}
	}
	if w := p.Post("/trials/spring/drop", url.Values{}); w.Code != http.StatusSeeOther || p.Get("/trials/spring").Code != http.StatusNotFound {
		t.Errorf("a dropped plan: %d", w.Code)
	}
}

func TestBenchFiles(t *testing.T) {
	p := webtest.New(t)
	plan := keptTrial(t, p, nil)
	sheets := p.Get("/trials/spring/sheets?paper=letter")
	if !strings.Contains(sheets.Header().Get("Content-Security-Policy"), "style-src 'sha256-") || !strings.Contains(sheets.Body.String(), "size: letter") {
		t.Errorf("sheets: %v", sheets.Header())
	}
	if p.Get("/trials/spring/sheets?paper=foolscap").Code != http.StatusBadRequest {
		t.Error("sheets on foolscap")
	}
	for at, kind := range map[string]string{"calendar.ics": "text/calendar", "counts.csv": "text/csv"} {
		w := p.Get("/trials/spring/" + at)
		if w.Code != http.StatusOK || !strings.HasPrefix(w.Header().Get("Content-Type"), kind) || !strings.Contains(w.Body.String(), plan.Dishes[0].Label) {
			t.Errorf("%s: %d, %s", at, w.Code, w.Header().Get("Content-Type"))
		}
	}
	if p.Get("/trials/spring/plot.svg").Code != http.StatusNotFound {
		t.Error("a plot of nothing")
	}
}

// From the first look to the verdict, with an impossible count on the way.
func TestCounting(t *testing.T) {
	p := webtest.New(t)
	p.Now = func() time.Time { return time.Date(2026, 5, 2, 9, 0, 0, 0, time.UTC) }
	if err := p.Store.AddLot(t.Context(), store.Lot{Name: "moor 3", Taxon: "Ficta umbrosa", Eggs: 120}); err != nil {
		t.Fatal(err)
	}
	plan := keptTrial(t, p, url.Values{"lot": {"moor 3"}, "eggs": {""}})
	if list := p.Get("/trials").Body.String(); !strings.Contains(list, fmt.Sprintf("Count: %d due", len(plan.Dishes))) {
		t.Error("the list does not tell what is due")
	}
	form := p.Get("/trials/spring/count").Body.String()
	// Blind: the form tells labels, and nothing of a treatment.
	for _, word := range []string{"drying", "untreated", "28 d", "14 d"} {
		if _, fields, _ := strings.Cut(form, `<form id="counts"`); strings.Contains(strings.Split(fields, "</form>")[0], word) {
			t.Errorf("the counts form says %q", word)
		}
	}
	a, b := plan.Dishes[0].Label, plan.Dishes[1].Label
	held := p.Post("/trials/spring/count", url.Values{"day": {"2026-05-02"}, "hatched:" + a: {"2"}, "hatched:" + b: {"999"}, "note:" + b: {"spilt <b>"}})
	body := html.UnescapeString(held.Body.String())
	if held.Code != http.StatusUnprocessableEntity || !strings.Contains(body, "Dish "+b+":") || !strings.Contains(body, `value="999"`) || !strings.Contains(held.Body.String(), "spilt &lt;b&gt;") {
		t.Errorf("999 eggs: status %d, or the dish or what was typed is lost", held.Code)
	}
	if got := looksOf(t, p); len(got) != 1 || got[0].Hatched != 2 {
		t.Fatalf("the possible count was lost: %+v", got)
	}
	corrected := p.Post("/trials/spring/count", url.Values{"day": {"2026-05-02"}, "hatched:" + a: {"1"}})
	if to := corrected.Header().Get("Location"); !strings.Contains(to, "corrected=1") {
		t.Errorf("a correction leads to %q", to)
	}
	if got := looksOf(t, p); len(got) != 1 || got[0].Hatched != 1 || len(got[0].Was) != 1 {
		t.Errorf("after a correction: %+v", got)
	}
	if looks := p.Get("/trials/spring/looks").Body.String(); strings.Count(looks, `class="replaced"`) != 1 {
		t.Error("the looks do not show what was corrected")
	}
	if w := p.Post("/trials/spring/count", url.Values{"day": {"2026-06-02"}, "hatched:" + a: {"1"}}); w.Code != http.StatusBadRequest {
		t.Errorf("a count of a day to come: %d", w.Code)
	}

	// The last looks: the dried eggs hatch, the others do not.
	p.Now = func() time.Time { return plan.End.Time().Add(9 * time.Hour) }
	last := url.Values{"day": {plan.End.String()}}
	for _, d := range plan.Dishes {
		n := 0
		if set, ok := d.Levels["drying"]; ok && set.Number > 0 {
			n = d.Eggs - 2
		}
		last.Set("hatched:"+d.Label, fmt.Sprint(n))
	}
	p.Post("/trials/spring/count", url.Values{"day": {"2026-05-02"}, "hatched:" + a: {"0"}})
	w := p.Post("/trials/spring/count", last)
	if w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/trials/spring/result" {
		t.Fatalf("the last looks: %d, %s\n%s", w.Code, w.Header().Get("Location"), w.Body)
	}
	result := html.UnescapeString(p.Get("/trials/spring/result").Body.String())
	for _, want := range []string{"supported", "contradicted", "95 % interval", "untreated", "/papers/spring"} {
		if !strings.Contains(result, want) {
			t.Errorf("the result lacks %q", want)
		}
	}
	if svg := p.Get("/trials/spring/plot.svg"); !strings.Contains(svg.Body.String(), "<svg") {
		t.Errorf("the plot: %d", svg.Code)
	}
	disagreement := html.UnescapeString(p.Get("/species/Ficta%20umbrosa/disagreements/ficta-umbrosa:drying:need").Body.String())
	if !strings.Contains(disagreement, "own trial") || !strings.Contains(disagreement, "is supported") {
		t.Error("the disagreement's page does not tell the verdict")
	}
	if lot := p.Get("/lots/moor%203").Body.String(); !strings.Contains(lot, "set in trial spring") {
		t.Error("the lot does not tell where its eggs went")
	}
}

// Clutches typed for a lot are blocks of the plan; more than the lot holds is
// said at their field.
func TestPlanByClutch(t *testing.T) {
	p := webtest.New(t)
	if err := p.Store.AddLot(t.Context(), store.Lot{Name: "moor 3", Taxon: "Ficta umbrosa", Eggs: 120}); err != nil {
		t.Fatal(err)
	}
	fresh := p.Get("/plan?taxon=Ficta+umbrosa").Body.String()
	if !strings.Contains(fresh, `name="clutches-of:moor 3"`) || !strings.Contains(fresh, `name="clutches"`) {
		t.Error("the form does not ask for clutches")
	}
	fields := url.Values{"sent": {"1"}, "taxon": {"Ficta umbrosa"}, "disagreement": {"ficta-umbrosa:drying:need"}, "day": {"2026-04-01"}, "chambers": {"12"},
		"lot": {"moor 3"}, "clutches-of:moor 3": {"female 1 = 60\nfemale 2 = 61"}}
	if body := html.UnescapeString(p.Get("/plan?" + fields.Encode()).Body.String()); !strings.Contains(body, "has 120 eggs left, not 121") || !strings.Contains(body, `id="lot-0-clutches-hint"><b class="problem">`) {
		t.Error("121 eggs of 120 are not refused at their field")
	}
	plan := keptTrial(t, p, url.Values{"lot": {"moor 3"}, "eggs": {""}, "clutches-of:moor 3": {"female 1 = 60\nfemale 2 = 60"}})
	seen := map[string]bool{}
	for _, d := range plan.Dishes {
		seen[d.Block()] = true
	}
	if len(seen) != 2 || !seen["moor 3 / female 1"] {
		t.Errorf("the dishes come from %v", seen)
	}
}

// A trial has a page of its own whatever it is called.
func TestTrialNamedLikeAPlace(t *testing.T) {
	p := webtest.New(t)
	plan := keptTrial(t, p, nil)
	for _, name := range []string{"plan", "count", "?", "a#b"} {
		plan.Trial = name
		if _, err := p.Store.KeepTrial(t.Context(), plan); err != nil {
			t.Fatal(err)
		}
		list := p.Get("/trials").Body.String()
		at := address.Trial(name)
		if !strings.Contains(list, `href="`+at+`"`) {
			t.Errorf("%s: the list does not lead to %s", name, at)
		}
		if w := p.Get(at); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "What it can settle") {
			t.Errorf("%s: status %d", name, w.Code)
		}
	}
}

func looksOf(t *testing.T, p *webtest.Page) []counts.Look {
	t.Helper()
	kept, err := p.Store.Trial(context.Background(), "spring")
	if err != nil || kept.Counts == nil {
		t.Fatalf("%+v, %v", kept.Counts, err)
	}
	return kept.Counts.Looks
}

func TestLots(t *testing.T) {
	p := webtest.New(t)
	good := func() url.Values {
		return url.Values{"lot": {"Moor 3"}, "taxon": {"Ficta umbrosa"}, "eggs": {"80"}, "sieve": {"150"}, "collected": {"2025-10-30"}, "site": {"third pool"}}
	}
	for field, typed := range map[string]string{"lot": "a/b", "taxon": "", "eggs": "many", "sieve": "-1", "collected": "30.10.2025"} {
		v := good()
		v.Set(field, typed)
		if w := p.Post("/lots", v); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), `value="third pool"`) {
			t.Errorf("%s %q: %d, or what was typed is lost", field, typed, w.Code)
		}
	}
	if w := p.Post("/lots", good()); w.Code != http.StatusSeeOther {
		t.Fatalf("%d\n%s", w.Code, w.Body)
	}
	if w := p.Post("/lots", good()); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("the same lot again: %d", w.Code)
	}
	if list := p.Get("/lots").Body.String(); strings.Contains(list, "third pool") || !strings.Contains(list, "150 µm") {
		t.Error("the list shows the place in full, or not the sieve")
	}
	if list := p.Get("/lots").Body.String(); strings.Contains(list, "No paper of the library") {
		t.Error("the list says that no paper tells of an animal of which some do")
	}
	v := good()
	v.Set("taxon", "Ficta umbrossa")
	if w := p.Post("/lots/Moor%203", v); w.Code != http.StatusSeeOther || !strings.Contains(p.Get("/lots").Body.String(), "No paper of the library has a claim on <i>Ficta umbrossa</i>") {
		t.Errorf("a lot of a misspelt animal: %d, or the list does not say that no paper tells of it", w.Code)
	}
	v = good()
	v.Set("eggs", "75")
	v.Set("reason", "recounted after picking")
	if w := p.Post("/lots/Moor%203", v); w.Code != http.StatusSeeOther {
		t.Errorf("%d\n%s", w.Code, w.Body)
	}
	l, err := p.Store.Lot(t.Context(), "moor 3")
	if err != nil || l.Left != 75 || l.Site != "third pool" {
		t.Errorf("%+v, %v", l, err)
	}
	if one := p.Get("/lots/Moor%203").Body.String(); !strings.Contains(one, "recounted after picking") || !strings.Contains(one, "third pool") {
		t.Error("the lot's own page lacks its history or its place")
	}
}
