// Package web is the local page of a library: species with what papers claim
// of them, where papers disagree, each claim beside the picture of its page,
// search, the papers themselves, trials and lots of eggs. Pages are made on the
// server and useful without script.
//
// It refuses to answer to a host or origin that is not its own, to change
// anything without a token from its own form, to run script or style that it
// did not bring, to show what a paper printed as anything but text, and to
// hold the library between two requests: the command line works beside it.
//
// Its parts are packages of their own: guard looks at each request, site leads
// it to a view and frames what the view returns, literature and trials are the
// views, intake takes papers in. A view is a method that returns a site.View
// with the name of its template; errors go back as they are, and refuse knows
// the status of each.
package web

import (
	"context"
	"net/http"
	"sync"
	"time"

	"hatchlore/query/web/guard"
	"hatchlore/query/web/intake"
	"hatchlore/query/web/literature"
	"hatchlore/query/web/site"
	"hatchlore/query/web/trials"
)

// Shelf is the library that the page shows, with what reads its papers. Its
// methods may be called from several goroutines.
type Shelf interface {
	site.Library
	literature.Press
	intake.Reader
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
	site    *site.Site
	intake  *intake.Intake
	ctx     context.Context // of what goes on between requests
	stop    context.CancelFunc
	finding sync.WaitGroup
}

// New returns a Server over the library. An error means that the program's
// own templates are at fault.
func New(shelf Shelf, opt Options) (*Server, error) {
	if opt.Now == nil {
		opt.Now = time.Now
	}
	framed, err := site.New(shelf, guard.New(opt.Hosts, opt.Password), opt.Now)
	if err != nil {
		return nil, err
	}
	s := &Server{site: framed}
	if err := literature.Enter(framed, shelf, opt.Pictures); err != nil {
		return nil, err
	}
	if err := trials.Enter(framed); err != nil {
		return nil, err
	}
	if s.intake, err = intake.Enter(framed, shelf); err != nil {
		return nil, err
	}
	s.ctx, s.stop = context.WithCancel(context.Background())
	return s, nil
}

// Prepare finds beforehand what takes long to find of papers, beside the
// answering of requests, until Close.
func (s *Server) Prepare() {
	s.finding.Go(func() {
		if err := s.site.Answers().Prepare(s.ctx); err != nil && s.ctx.Err() == nil {
			site.Log("looking through the papers", err)
		}
	})
}

// Close ends what goes on between requests, such as the reading of papers; what
// was read is in the library.
func (s *Server) Close() {
	s.stop()
	s.intake.Close()
	s.finding.Wait()
}

// ServeHTTP answers one request, if it may be answered.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) { s.site.ServeHTTP(w, r) }
