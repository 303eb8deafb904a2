// Package literature is what the local page shows of papers: species with what
// is claimed of them, where papers disagree, each claim beside the picture of
// its page with the form to decide on it, search, and the papers page by page.
//
// It refuses to show a claim without its words and page, to reject one without
// a reason, and to tell two sides apart by colour alone.
package literature

import (
	"context"
	"embed"
	"html/template"
	"io"
	"strings"

	"hatchlore/query/web/literature/sheet"
	"hatchlore/query/web/site"
	"hatchlore/query/wording"
	"hatchlore/species/conflict"
	"hatchlore/species/value"
)

//go:embed templates/*.html
var templates embed.FS

// Press makes what is looked at or handed on beside the views.
type Press interface {
	// Picture draws a page of a PDF, counted from 1, as PNG.
	Picture(ctx context.Context, path string, page, dpi int) ([]byte, error)
	// WriteSheet writes the sheet on a taxon for the next keeper, a page of its
	// own with its style inside, for paper of a size: a4 or letter.
	WriteSheet(ctx context.Context, w io.Writer, taxon, paper string) error
	// WriteParcel writes what the library knows as open files in a ZIP archive;
	// private adds what is not for others: places in full, collectors, permits.
	WriteParcel(ctx context.Context, w io.Writer, private bool) error
}

// section is the views of this package.
type section struct {
	*site.Site
	press    Press
	pictures *sheet.Pictures
}

// steps lead to what comes before and after; "" where nothing does.
type steps struct {
	Previous, Next string // addresses
	Place          string // where this stands, in words
	About          string // what the steps go through
}

// step is the address of the ith of n things, "" beyond them.
func step(i, n int, at func(i int) string) string {
	if i < 0 || i >= n {
		return ""
	}
	return at(i)
}

// mostPictures bounds the pictures kept on disk: some thousand pages.
const mostPictures = 256 << 20

// Enter enters the views into a site. Pictures of pages are kept in a folder.
func Enter(at *site.Site, press Press, pictures string) error {
	s := &section{at, press, sheet.NewPictures(pictures, mostPictures, press.Picture)}
	s.speciesViews()
	s.disagreementViews()
	s.claimViews()
	s.paperViews()
	s.searchViews()
	s.nameViews()
	s.handedOn()
	return s.Templates(templates, funcs)
}

// funcs are what the templates of these views may call.
var funcs = template.FuncMap{
	"letter":    conflict.Letter,
	"triedBy":   wording.Trial,
	"bare":      bare,
	"value":     value.Of,
	"authors":   authors,
	"how":       howRead,
	"language":  language,
	"weight":    wording.Weight,
	"kind":      func(k conflict.Kind) string { return wording.Kinds[k] },
	"reason":    func(k conflict.ReasonKind) string { return wording.Reasons[k] },
	"citations": func(s conflict.Side) string { return strings.Join(wording.Citations(s), ", ") },
}
