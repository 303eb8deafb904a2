package web

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
)

//go:embed templates/*.html static/*
var files embed.FS

// view is what a request is answered with.
type view struct {
	name     string // of its template, without the ending
	title    string
	here     string // the tab that it belongs to
	status   int    // 0 is 200
	script   string // of static, without the ending; "" for none
	wide     bool   // takes the whole width of the window
	cautions bool   // speaks of handling animals
	invented bool   // shows papers of the demonstration library
	data     any
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
	Degrees  degrees
	Path     string // of this page, for switches that lead back to it
	asked    url.Values
	Data     any
}

// In is the address of this page with temperatures in another scale.
func (f frame) In(scale string) string {
	q := maps.Clone(f.asked)
	q.Set(degreesName, scale)
	return f.Path + "?" + q.Encode()
}

const (
	layoutFile = "templates/layout.html"
	partsFiles = "templates/parts*.html"
)

// parseTemplates parses each view with the layout and the shared parts.
func parseTemplates() (map[string]*template.Template, error) {
	base, err := template.New("layout.html").Funcs(funcs).ParseFS(files, layoutFile, partsFiles)
	if err != nil {
		return nil, fmt.Errorf("the page's layout: %w", err)
	}
	names, err := fs.Glob(files, "templates/*.html")
	if err != nil {
		return nil, err
	}
	out := map[string]*template.Template{}
	for _, n := range names {
		if shared, err := path.Match(partsFiles, n); n == layoutFile || shared || err != nil {
			continue
		}
		t, err := base.Clone()
		if err != nil {
			return nil, err
		}
		if _, err := t.ParseFS(files, n); err != nil {
			return nil, fmt.Errorf("the page's template: %w", err)
		}
		out[strings.TrimSuffix(path.Base(n), ".html")] = t
	}
	return out, nil
}

// render writes a view, whole or not at all.
func (s *Server) render(w http.ResponseWriter, r *http.Request, v view) {
	f := frame{
		Title: v.title, Here: v.here, Tabs: s.tabs, Script: v.script, Wide: v.wide, Token: s.token, Invented: v.invented,
		Words: r.URL.Query().Get("words"), Degrees: degreesOf(r), Path: r.URL.EscapedPath(), asked: r.URL.Query(), Data: v.data,
	}
	if v.cautions {
		f.Cautions = trial.Cautions()
	}
	f.Holder = s.shelf.Store().Holder()
	rememberDegrees(w, r)
	var b bytes.Buffer
	t, ok := s.templates[v.name]
	if !ok {
		logged(r.URL.Path, fmt.Errorf("there is no template %q", v.name))
		http.Error(w, "hatchlore: this view is missing", http.StatusInternalServerError)
		return
	}
	if err := t.Execute(&b, f); err != nil {
		logged(r.URL.Path, err)
		http.Error(w, "hatchlore: this page could not be written", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	if v.status != 0 {
		w.WriteHeader(v.status)
	}
	w.Write(b.Bytes())
}

// staticFiles enters the style sheet and the scripts.
func (s *Server) staticFiles() {
	s.file("GET /static/{name}", func(w http.ResponseWriter, r *http.Request) error {
		name := "static/" + r.PathValue("name")
		if !fs.ValidPath(name) {
			return errNothing
		}
		data, err := files.ReadFile(name)
		if err != nil {
			return errNothing
		}
		w.Header().Set("Content-Type", staticKinds[path.Ext(name)])
		w.Header().Set("Cache-Control", "no-cache")
		_, err = w.Write(data)
		return err
	})
	s.mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) { s.fail(w, r, errNothing) })
}

// staticKinds are the media types of the files that come with the program.
var staticKinds = map[string]string{".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml"}

var errNothing = &refusal{http.StatusNotFound, "there is nothing at this address"}
