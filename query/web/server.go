// Package web is the local page of a library: species with what papers claim
// of them, where papers disagree, each claim beside the picture of its page,
// search, and the papers themselves. Pages are made on the server and useful
// without script.
//
// It refuses to answer to a host or origin that is not its own, to change
// anything without a token from its own form, to run script or style that it
// did not bring, to show what a paper printed as anything but text, and to
// hold the library between two requests: the command line works beside it.
//
// A view is a file of its own. It registers what it answers in a method of
// Server that routes calls, returns a view with the name of its template, and
// leaves errors to fail, which knows the status of each.
package web

import (
	"context"
	"crypto/rand"
	"html/template"
	"net/http"
	"sync"
	"time"

	"hatchlore/evidence/store"
	"hatchlore/query"
	"hatchlore/query/web/sheet"
)

// Shelf is the library that the page shows, with what reads its papers. Its
// methods may be called from several goroutines.
type Shelf interface {
	Store() *store.Store
	Answers() *query.Engine
	// Search gives use an Engine that can search, for as long as use runs.
	Search(ctx context.Context, use func(*query.Engine) error) error
	// Picture draws a page of a PDF, counted from 1, as PNG.
	Picture(ctx context.Context, path string, page, dpi int) ([]byte, error)
	// Invented reports whether the file with this content hash is a paper of
	// the demonstration library.
	Invented(hash string) bool
	// InventedNote says of an animal of the demonstration library that it does
	// not exist; it is "" of every other.
	InventedNote(taxon string) string
	// Kinds are the endings of files that papers come in, as ".pdf".
	Kinds() []string
	// Add reads papers into the library and reports each when it is done; the
	// error is for what stops the whole.
	Add(ctx context.Context, paths []string, report func(Outcome)) error
}

// Options of a Server.
type Options struct {
	Hosts    []string // host names, with port, under which the page may be asked for
	Password string   // asked for on every request; "" asks for none
	Pictures string   // folder in which page pictures are kept
	Now      func() time.Time
}

// Server answers the page's requests.
type Server struct {
	shelf     Shelf
	opt       Options
	token     string
	templates map[string]*template.Template
	kept      memo
	memory    query.Memory
	pictures  *sheet.Pictures
	adding    adding
	planner   planner
	ctx       context.Context // of what goes on between requests
	stop      context.CancelFunc
	mux       *http.ServeMux
	tabs      []tab
	guesses   sync.Mutex // held while a wrong password is answered
}

// tab leads to one part of the page.
type tab struct{ Part, At, Name string }

// mostPictures bounds the pictures kept on disk: some thousand pages.
const mostPictures = 256 << 20

// New returns a Server over the library. An error means that the program's
// own templates are at fault.
func New(shelf Shelf, opt Options) (*Server, error) {
	if opt.Now == nil {
		opt.Now = time.Now
	}
	s := &Server{shelf: shelf, opt: opt, token: rand.Text(), mux: http.NewServeMux()}
	s.ctx, s.stop = context.WithCancel(context.Background())
	s.adding.ctx, s.adding.add = s.ctx, shelf.Add
	s.adding.done = func(o Outcome) {
		if !o.Taken || o.State == "known" {
			s.removeCopy(o.Path)
		}
	}
	s.pictures = sheet.NewPictures(opt.Pictures, mostPictures, shelf.Picture)
	var err error
	if s.templates, err = parseTemplates(); err != nil {
		return nil, err
	}
	s.routes()
	return s, nil
}

// Prepare finds beforehand what takes long to find of papers, beside the
// answering of requests, until Close.
func (s *Server) Prepare() {
	s.adding.workers.Go(func() {
		if err := s.answers().Prepare(s.ctx); err != nil && s.ctx.Err() == nil {
			logged("looking through the papers", err)
		}
	})
}

// Close ends the reading of papers that is under way; what was read is in the
// library.
func (s *Server) Close() {
	s.stop()
	s.adding.workers.Wait()
}

// routes enters every view.
func (s *Server) routes() {
	s.staticFiles()
	s.speciesViews()
	s.disagreementViews()
	s.claimViews()
	s.paperViews()
	s.searchViews()
	s.trialViews()
	s.addViews()
}

// answers returns what answers questions, with what it found before.
func (s *Server) answers() *query.Engine { return s.shelf.Answers().Remembering(&s.memory) }

// ServeHTTP answers one request, if it may be answered.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	setHeaders(w.Header())
	if err := s.admit(w, r); err != nil {
		s.fail(w, r, err)
		return
	}
	s.mux.ServeHTTP(w, r)
}

// tab enters a part of the page at its head; views tell by its name where they
// belong.
func (s *Server) tab(part, at, name string) { s.tabs = append(s.tabs, tab{part, at, name}) }

// page enters a view under a pattern of [http.ServeMux].
func (s *Server) page(pattern string, show func(*http.Request) (view, error)) {
	s.mux.HandleFunc(pattern, func(w http.ResponseWriter, r *http.Request) {
		v, err := show(r)
		if err != nil {
			s.fail(w, r, err)
			return
		}
		s.render(w, r, v)
	})
}

// form enters what a form does; done returns the place to go on at. The form
// was found to be one of this server's, and is parsed.
func (s *Server) form(pattern string, done func(*http.Request) (place string, err error)) {
	s.mux.HandleFunc(pattern, func(w http.ResponseWriter, r *http.Request) {
		place, err := done(r)
		if err != nil {
			s.fail(w, r, err)
			return
		}
		http.Redirect(w, r, place, http.StatusSeeOther)
	})
}

// file enters what is no page: a picture, a calendar, a sheet.
func (s *Server) file(pattern string, send func(http.ResponseWriter, *http.Request) error) {
	s.mux.HandleFunc(pattern, func(w http.ResponseWriter, r *http.Request) {
		if err := send(w, r); err != nil {
			s.fail(w, r, err)
		}
	})
}
