package serve

import (
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hatchlore/cmd/internal/library"
	corpus "hatchlore/corpus-sample"
	"hatchlore/ingest/pdf/process/standin"
	"hatchlore/query/web"
	"hatchlore/query/web/intake"
)

// TestMain lets this test binary stand in for the reader processes.
func TestMain(m *testing.M) {
	standin.ServeIfAsked()
	m.Run()
}

func TestListenBeyondLoopback(t *testing.T) {
	for listen, tt := range map[string]struct{ password, want bool }{
		"127.0.0.1:8460": {false, true}, "localhost:0": {false, true}, "[::1]:8460": {false, true},
		"0.0.0.0:8460": {false, false}, ":8460": {false, false}, "192.0.2.7:8460": {false, false}, "bench.example:8460": {false, false},
		"192.0.2.8:8460": {true, true}, "8460": {true, false}, "127.0.0.1:99999": {false, false}, "127.0.0.1:http": {false, false},
	} {
		if err := checkListen(listen, tt.password); (err == nil) != tt.want {
			t.Errorf("--listen %s, password %v: %v", listen, tt.password, err)
		}
	}
}

func TestHosts(t *testing.T) {
	got := hostsOf(&net.TCPAddr{IP: net.ParseIP("127.0.0.1"), Port: 8460})
	if strings.Join(got, " ") != "127.0.0.1:8460 localhost:8460" {
		t.Errorf("%q", got)
	}
	if got := hostsOf(&net.TCPAddr{IP: net.ParseIP("192.0.2.7"), Port: 80}); strings.Join(got, " ") != "192.0.2.7:80 192.0.2.7" {
		t.Errorf("%q", got)
	}
}

// BenchmarkPicture asks for pages of the sample as the page shows them: cold,
// drawn by a reader process that runs already, and kept on disk.
func BenchmarkPicture(b *testing.B) {
	dir := b.TempDir()
	if err := corpus.Write(filepath.Join(dir, "papers")); err != nil {
		b.Fatal(err)
	}
	at := &library.Place{Folder: filepath.Join(dir, "library")}
	err := at.UseNew(func(lib *library.Library) error {
		shelf, err := newShelf(b.Context(), lib)
		if err != nil {
			return err
		}
		defer shelf.close()
		paper := filepath.Join(dir, "papers", "marchbank-1968.pdf")
		if err := shelf.Add(b.Context(), []string{paper}, func(intake.Outcome) {}); err != nil {
			return err
		}
		pages := filepath.Join(dir, "pages")
		page, err := web.New(shelf, web.Options{Hosts: []string{"127.0.0.1:1"}, Pictures: pages})
		if err != nil {
			return err
		}
		defer page.Close()
		ask := func(b *testing.B) {
			r := httptest.NewRequest(http.MethodGet, "/papers/marchbank1968/pages/2/picture", nil)
			r.Host = "127.0.0.1:1"
			w := httptest.NewRecorder()
			if page.ServeHTTP(w, r); w.Code != http.StatusOK {
				b.Fatalf("status %d: %s", w.Code, w.Body)
			}
		}
		ask(b) // starts the reader process
		b.Run("cold", func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				if err := os.RemoveAll(pages); err != nil {
					b.Fatal(err)
				}
				b.StartTimer()
				ask(b)
			}
		})
		b.Run("kept", func(b *testing.B) {
			for b.Loop() {
				ask(b)
			}
		})
		return nil
	})
	if err != nil {
		b.Fatal(err)
	}
}
