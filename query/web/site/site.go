// Package site is the frame of the local page: it leads a request to its view,
// shows what the view returns in the common layout, answers errors, and keeps
// what was computed of the library until the library changes.
//
// It refuses to answer what the guard does not admit, to send a page that could
// not be written to its end, and to hold the library between two requests: the
// command line works beside it.
package site

import (
	"context"
	"html/template"
	"net/http"
	"time"

	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/query"
	"hatchlore/query/web/guard"
	"hatchlore/query/web/refuse"
)

// Library is what the views show. Its methods may be called from several
// goroutines.
type Library interface {
	Store() *store.Store
	Answers() *query.Engine
	// Search gives use an Engine that can search, for as long as use runs.
	Search(ctx context.Context, use func(*query.Engine) error) error
	// Behind tells of how many papers searches do not see the present reading.
	Behind() int
	// Invented reports whether the file with this content hash is a paper of
	// the demonstration library.
	Invented(hash string) bool
	// InventedNote says of an animal of the demonstration library that it does
	// not exist; it is "" of every other.
	InventedNote(taxon string) string
}

// Site leads requests to views. Views are entered before the first request.
type Site struct {
	Library
	Guard *guard.Guard
	Now   func() time.Time

	base      *template.Template // the layout and the parts that all views share
	templates map[string]*template.Template
	kept      kept
	memory    query.Memory
	mux       *http.ServeMux
	tabs      []tab
}

// tab leads to one part of the page.
type tab struct{ Part, At, Name string }

// New returns a site without a view. An error means that the program's own
// templates are at fault.
func New(lib Library, g *guard.Guard, now func() time.Time) (*Site, error) {
	s := &Site{Library: lib, Guard: g, Now: now, templates: map[string]*template.Template{}, mux: http.NewServeMux()}
	if err := s.parseBase(); err != nil {
		return nil, err
	}
	s.File("GET /static/{name}", sendStatic)
	s.mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) { s.fail(w, r, refuse.Nothing) })
	return s, nil
}

// Answers returns what answers questions, with what it found before.
func (s *Site) Answers() *query.Engine { return s.Library.Answers().Remembering(&s.memory) }

// Today is the day on which a request is answered.
func (s *Site) Today() trial.Day { return trial.DayOf(s.Now()) }

// ServeHTTP answers one request, if it may be answered.
func (s *Site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if err := s.Guard.Admit(w, r); err != nil {
		s.fail(w, r, err)
		return
	}
	s.mux.ServeHTTP(w, r)
}

// Tab enters a part of the page at its head; views tell by its name where they
// belong.
func (s *Site) Tab(part, at, name string) { s.tabs = append(s.tabs, tab{part, at, name}) }

// Page enters a view under a pattern of [http.ServeMux].
func (s *Site) Page(pattern string, show func(*http.Request) (View, error)) {
	s.Form(pattern, func(r *http.Request) (Answer, error) { return show(r) })
}

// Form enters what a form does: it leads on to a place, or shows a view that
// says what is wrong beside what was typed. The form was found to be one of
// this page's, and is parsed.
func (s *Site) Form(pattern string, done func(*http.Request) (Answer, error)) {
	s.mux.HandleFunc(pattern, func(w http.ResponseWriter, r *http.Request) {
		a, err := done(r)
		if err != nil {
			s.fail(w, r, err)
			return
		}
		a.answer(s, w, r)
	})
}

// File enters what is no page: a picture, a calendar, a sheet.
func (s *Site) File(pattern string, send func(http.ResponseWriter, *http.Request) error) {
	s.mux.HandleFunc(pattern, func(w http.ResponseWriter, r *http.Request) {
		if err := send(w, r); err != nil {
			s.fail(w, r, err)
		}
	})
}

// Answer is what a request is answered with: a View, or a Place to go on at.
type Answer interface {
	answer(s *Site, w http.ResponseWriter, r *http.Request)
}

// Place is an address of the page at which to go on.
type Place string

func (p Place) answer(_ *Site, w http.ResponseWriter, r *http.Request) {
	http.Redirect(w, r, string(p), http.StatusSeeOther)
}
