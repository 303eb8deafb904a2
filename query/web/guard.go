package web

import (
	"crypto/sha256"
	"crypto/subtle"
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"
)

// policy is the content-security policy (W3C CSP level 3) of every answer:
// nothing but what this server sends, and no script or style inside a page.
const policy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

func setHeaders(h http.Header) {
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "same-origin") // with no-referrer browsers send forms without their origin
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cache-Control", "no-store")
}

// maxForm bounds the body of a form. Papers are sent to a place of their own
// with a bound of its own; see maxUpload.
const maxForm = 1 << 20

// uploadPath takes papers, and maxUpload bounds what is sent there at once.
const (
	uploadPath = "/add"
	maxUpload  = 600 << 20
)

// tokenField is the form field, and tokenHeader the header, with the token.
const (
	tokenField  = "token"
	tokenHeader = "X-Hatchlore-Token"
)

var (
	errHost     = &refusal{http.StatusMisdirectedRequest, "this page answers under its own address only; open the address that 'hatchlore serve' printed"}
	errOrigin   = &refusal{http.StatusForbidden, "this form was sent from another page; open it here and send it again"}
	errToken    = &refusal{http.StatusForbidden, "this form is older than the running server, or not one of its own; load the page again and send it anew"}
	errPassword = &refusal{http.StatusUnauthorized, "this page asks for the password that it was started with"}
	errTooLarge = &refusal{http.StatusRequestEntityTooLarge, "that is more than this form takes"}
)

// admit decides whether a request may be answered, and parses its form.
func (s *Server) admit(w http.ResponseWriter, r *http.Request) error {
	if !slices.Contains(s.opt.Hosts, strings.ToLower(r.Host)) {
		return errHost
	}
	if !s.knows(r) {
		w.Header().Set("WWW-Authenticate", `Basic realm="hatchlore", charset="UTF-8"`)
		return errPassword
	}
	switch r.Method {
	case http.MethodGet, http.MethodHead:
		return nil
	case http.MethodPost:
		return s.admitForm(w, r)
	}
	return &refusal{http.StatusMethodNotAllowed, "this page takes no such request"}
}

// knows reports whether the request gives the password (RFC 7617), where one
// is asked for. Digests have one length, so that comparing them tells nothing.
func (s *Server) knows(r *http.Request) bool {
	if s.opt.Password == "" {
		return true
	}
	_, got, _ := r.BasicAuth()
	want, have := sha256.Sum256([]byte(s.opt.Password)), sha256.Sum256([]byte(got))
	if subtle.ConstantTimeCompare(want[:], have[:]) == 1 {
		return true
	}
	if got != "" {
		// One guess after the other, three a second.
		s.guesses.Lock()
		defer s.guesses.Unlock()
		time.Sleep(guessTime)
	}
	return false
}

const guessTime = 300 * time.Millisecond

// admitForm lets a form pass that a page of this server sent. A large body is
// refused by its length before any of it is read, else where it passes the
// bound.
func (s *Server) admitForm(w http.ResponseWriter, r *http.Request) error {
	if !s.sameOrigin(r) {
		return errOrigin
	}
	most := int64(maxForm)
	if r.URL.Path == uploadPath {
		most = maxUpload
	}
	if r.ContentLength > most {
		w.Header().Set("Connection", "close")
		return errTooLarge
	}
	r.Body = http.MaxBytesReader(w, r.Body, most)
	if r.URL.Path == uploadPath {
		// Its parts are read one by one; the token comes in a header or as the
		// first part.
		return nil
	}
	if err := r.ParseForm(); err != nil {
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			return errTooLarge
		}
		return &refusal{http.StatusBadRequest, "this form cannot be read; load the page again"}
	}
	return s.checkToken(r.PostForm.Get(tokenField))
}

func (s *Server) checkToken(got string) error {
	if subtle.ConstantTimeCompare([]byte(got), []byte(s.token)) != 1 {
		return errToken
	}
	return nil
}

// sameOrigin reports whether a form comes from a page of this server: by its
// Origin, by what the browser says of the sender (W3C Fetch Metadata), else by
// its token alone.
func (s *Server) sameOrigin(r *http.Request) bool {
	if site := r.Header.Get("Sec-Fetch-Site"); site != "" && site != "same-origin" {
		return false
	}
	origin := r.Header.Get("Origin")
	if origin == "" {
		return true
	}
	u, err := url.Parse(origin)
	return err == nil && strings.EqualFold(u.Host, r.Host) && u.Path == ""
}
