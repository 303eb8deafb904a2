package browse

import (
	"archive/zip"
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/chromedp"
)

// handOn makes what is for others: the sheet on the species, with the verdict of
// the keeper's own trial, printed views, and the library as open files.
func (b *browser) handOn() {
	b.t.Helper()
	at := "/species/Quennocaris%20pallidipes"
	b.open(at)
	b.prints("a species")
	b.open(disagreementAt)
	b.prints("a disagreement")
	b.follow(".side-of blockquote a")
	b.prints("a claim")
	b.open(at + "/sheet?paper=letter")
	b.says("Quennocaris pallidipes", "invented", "is supported", "permit")
	b.prints("the sheet on a species")
	b.quiet("")
	b.open("/papers")
	names := b.download(".ways a.button")
	for _, want := range []string{"claims.json", "decisions.json", "trials.json", "lots.json", "references.bib"} {
		if !slices.ContainsFunc(names, func(name string) bool { return filepath.Base(name) == want }) {
			b.t.Errorf("the export lacks %s: %v", want, names)
		}
	}
}

// download clicks what sends an archive and returns the names of its files.
func (b *browser) download(selector string) []string {
	b.t.Helper()
	dir := b.t.TempDir()
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{Behavior: "allow", DownloadPath: dir})
		return err
	}))
	b.click(selector)
	for begun := time.Now(); time.Since(begun) < patience; time.Sleep(100 * time.Millisecond) {
		found, err := filepath.Glob(filepath.Join(dir, "*.zip"))
		if err != nil {
			b.t.Fatal(err)
		}
		if len(found) == 1 {
			return filesOf(b.t, found[0])
		}
	}
	entries, err := os.ReadDir(dir)
	b.t.Fatalf("no archive has come: %v, %v", entries, err)
	return nil
}

func filesOf(t *testing.T, archive string) []string {
	t.Helper()
	z, err := zip.OpenReader(archive)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	var out []string
	for _, f := range z.File {
		out = append(out, f.Name)
	}
	return out
}
