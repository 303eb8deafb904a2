package guard

import (
	"net/http/httptest"
	"testing"

	"hatchlore/query/web/refuse"
)

func TestPassword(t *testing.T) {
	const host = "127.0.0.1:8460"
	g := New([]string{host}, "pools of the fen")
	for given, want := range map[string]int{"": 401, "pools": 401, "pools of the fen": 0} {
		r := httptest.NewRequest("GET", "/", nil)
		r.Host = host
		if given != "" {
			r.SetBasicAuth("keeper", given)
		}
		w := httptest.NewRecorder()
		status := 0
		if err := g.Admit(w, r); err != nil {
			status = refuse.Status(err)
		}
		if status != want {
			t.Errorf("password %q: refused with %d, want %d", given, status, want)
		}
		if asks := w.Header().Get("WWW-Authenticate") != ""; asks != (want == 401) {
			t.Errorf("password %q: the browser is asked for one: %v", given, asks)
		}
	}
}
