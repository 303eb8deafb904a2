package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/query/web/webtest"
)

// While another process has the library everything can be read, with who has
// it told; a change is refused with that sentence and nothing breaks.
func TestWhileAnotherWrites(t *testing.T) {
	p := webtest.New(t)
	other, err := store.Open(p.Store.Dir())
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	release, err := other.Hold(t.Context(), "ingest")
	if err != nil {
		t.Fatal(err)
	}
	c := p.ClaimOn(t, "birch1975", evidence.Drying)
	for _, at := range []string{"/", "/species/Ficta%20umbrosa", "/papers", "/claims/" + c.ID} {
		w := p.Get(at)
		if w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "(ingest) has been writing to the library") {
			t.Errorf("%s: status %d, or it does not say who has the library", at, w.Code)
		}
	}
	w := p.Post("/claims/"+c.ID, url.Values{"do": {"accept"}})
	if w.Code != http.StatusServiceUnavailable || w.Header().Get("Retry-After") == "" || !strings.Contains(w.Body.String(), "(ingest) has been writing") {
		t.Errorf("a change meanwhile: status %d\n%s", w.Code, w.Body)
	}
	if from := p.Post("/claims/"+c.ID, url.Values{"do": {"accept"}}); strings.Contains(from.Body.String(), "Load the page again") {
		t.Error("a form from nowhere leads back")
	}
	release()
	if w := p.Post("/claims/"+c.ID, url.Values{"do": {"accept"}}); w.Code != http.StatusSeeOther {
		t.Errorf("a change afterwards: status %d", w.Code)
	}
	if strings.Contains(p.Get("/").Body.String(), "has been writing") {
		t.Error("the page still says that the library is held")
	}
}
