package site

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io/fs"
	"maps"
	"net/http"
	"net/url"
	"path"
	"strings"

	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/query/web/address"
	"hatchlore/query/web/refuse"
	"hatchlore/query/web/words"
)

//go:embed templates/*.html static/*
var files embed.FS

// View is a page that a request is answered with.
type View struct {
	Name     string // of its template, without the ending
	Title    string
	Here     string // the tab that it belongs to
	Status   int    // 0 is 200
	Script   string // of static, without the ending; "" for none
	Again    int    // seconds after which a browser without script asks for it anew; 0 for never
	Wide     bool   // takes the whole width of the window
	Cautions bool   // speaks of handling animals
	Invented bool   // shows papers of the demonstration library
	Data     any
}

// frame is what the layout shows around a view.
type frame struct {
	Title    string
	Here     string
	Tabs     []tab
	Script   string
	Wide     bool
	Token    string
	Words    string // of the search field
	Cautions []string
	Invented bool
	Holder   *store.InUse // the process that is writing to the library, if any
	Degrees  Degrees
	Path     string // of this page, for switches that lead back to it
	At       string // its whole address
	Again    int    // see View.Again
	asked    url.Values
	Data     any
}

// In is the address of this page with temperatures in another scale.
func (f frame) In(scale string) string {
	q := maps.Clone(f.asked)
	q.Set(degreesName, scale)
	return f.Path + "?" + q.Encode()
}

// shared are the functions that every template may call.
var shared = template.FuncMap{
	"count": trial.Plural, "capitalised": words.Heading, "sentence": words.Sentence, "pass": words.Pass,
	"species": address.Species, "disagreement": address.Disagreement, "claim": address.Claim, "paper": address.Paper, "page": address.Page,
	"trial": address.Trial, "lot": address.Lot,
}

const (
	everyFile  = "templates/*.html"
	layoutFile = "layout.html"
	partsFiles = "parts*.html"
)

// parseBase parses the layout and the parts, and the view of an error.
func (s *Site) parseBase() (err error) {
	s.base = template.New(layoutFile).Funcs(shared)
	if s.base, err = s.base.ParseFS(files, "templates/"+layoutFile, "templates/"+partsFiles); err != nil {
		return fmt.Errorf("the page's layout: %w", err)
	}
	return s.Templates(files, nil)
}

// Templates enters the templates of views, each under the name of its file
// without the ending. Those whose names begin with parts are parts that the
// others of the same files share; funcs are what all of them may call beyond
// what every view may.
func (s *Site) Templates(from fs.FS, funcs template.FuncMap) error {
	base, err := s.base.Clone()
	if err != nil {
		return err
	}
	base.Funcs(funcs)
	names, err := fs.Glob(from, everyFile)
	if err != nil {
		return err
	}
	var views []string
	for _, n := range names {
		part, err := path.Match(partsFiles, path.Base(n))
		switch {
		case err != nil:
			return err
		case part:
			if _, err := base.ParseFS(from, n); err != nil {
				return fmt.Errorf("the parts of the page's templates: %w", err)
			}
		case path.Base(n) != layoutFile:
			views = append(views, n)
		}
	}
	for _, n := range views {
		t, err := base.Clone()
		if err != nil {
			return err
		}
		if _, err := t.ParseFS(from, n); err != nil {
			return fmt.Errorf("the page's template: %w", err)
		}
		s.templates[strings.TrimSuffix(path.Base(n), ".html")] = t
	}
	return nil
}

// answer writes a view, whole or not at all.
func (v View) answer(s *Site, w http.ResponseWriter, r *http.Request) {
	f := frame{
		Title: v.Title, Here: v.Here, Tabs: s.tabs, Script: v.Script, Wide: v.Wide, Token: s.Guard.Token(), Invented: v.Invented,
		Words: r.URL.Query().Get("words"), Degrees: DegreesOf(r), Path: r.URL.EscapedPath(), At: r.URL.RequestURI(), Again: v.Again, asked: r.URL.Query(), Data: v.Data,
	}
	if v.Cautions {
		f.Cautions = trial.Cautions()
	}
	f.Holder = s.Store().Holder()
	rememberDegrees(w, r)
	var b bytes.Buffer
	t, ok := s.templates[v.Name]
	if !ok {
		Log(r.URL.Path, fmt.Errorf("there is no template %q", v.Name))
		http.Error(w, "hatchlore: this view is missing", http.StatusInternalServerError)
		return
	}
	if err := t.Execute(&b, f); err != nil {
		Log(r.URL.Path, err)
		http.Error(w, "hatchlore: this page could not be written", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	if v.Status != 0 {
		w.WriteHeader(v.Status)
	}
	w.Write(b.Bytes())
}

// sendStatic sends a style sheet, a script or a drawing as it stands.
func sendStatic(w http.ResponseWriter, r *http.Request) error {
	name := "static/" + r.PathValue("name")
	if !fs.ValidPath(name) {
		return refuse.Nothing
	}
	data, err := files.ReadFile(name)
	if err != nil {
		return refuse.Nothing
	}
	w.Header().Set("Content-Type", staticKinds[path.Ext(name)])
	w.Header().Set("Cache-Control", "no-cache")
	_, err = w.Write(data)
	return err
}

// staticKinds are the media types of the files that come with the program.
var staticKinds = map[string]string{".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml"}
