// Package guard keeps strangers off the local page: it looks at every request
// before a view does.
//
// It refuses a host or an origin that is not the page's own, a request without
// the password where one is asked for, a form without a token from one of the
// page's own forms, and more than a form takes.
package guard

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"
	"time"

	"hatchlore/query/web/refuse"
)

// policy is the content-security policy (W3C CSP level 3) of every answer:
// nothing but what this server sends, and no script or style inside a page.
const policy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// maxForm bounds the body of a form, unless Parts gave its place another
// bound.
const maxForm = 1 << 20

// TokenField is the form field, and TokenHeader the header, with the token.
const (
	TokenField  = "token"
	TokenHeader = "X-Hatchlore-Token"
)

// TooLarge refuses a body that passes its bound, in bytes.
func TooLarge(most int64) error {
	return refuse.With(http.StatusRequestEntityTooLarge, fmt.Sprintf("that is more than the %d MB that this form takes at once; send it in parts", most>>20))
}

var (
	errHost     = refuse.With(http.StatusMisdirectedRequest, "this page answers under its own address only; open the address that 'hatchlore serve' printed")
	errOrigin   = refuse.With(http.StatusForbidden, "this form was sent from another page; open it here and send it again")
	errToken    = refuse.With(http.StatusForbidden, "this form is older than the running server, or not one of its own; load the page again and send it anew")
	errPassword = refuse.With(http.StatusUnauthorized, "this page asks for the password that it was started with")
)

// Guard admits requests. Its methods may be called from several goroutines,
// but for Parts, which comes before the first request.
type Guard struct {
	hosts    []string
	password string
	token    string
	parts    map[string]int64 // bounds of forms of several parts, by place
	guesses  sync.Mutex       // held while a wrong password is answered
}

// New returns a guard of a page that may be asked for under hosts, names with
// port. A password of "" asks for none.
func New(hosts []string, password string) *Guard {
	return &Guard{hosts: hosts, password: password, token: rand.Text(), parts: map[string]int64{}}
}

// Token is what the page's own forms carry.
func (g *Guard) Token() string { return g.token }

// Parts lets the form at a place bring parts, such as files, of up to most
// bytes together. It comes to its view unread: the view reads it part by part
// and has its token looked at by Check.
func (g *Guard) Parts(place string, most int64) { g.parts[place] = most }

// Admit decides whether a request may be answered, and parses its form. The
// error is the answer in place of one.
func (g *Guard) Admit(w http.ResponseWriter, r *http.Request) error {
	setHeaders(w.Header())
	if !slices.Contains(g.hosts, strings.ToLower(r.Host)) {
		return errHost
	}
	if !g.knows(r) {
		w.Header().Set("WWW-Authenticate", `Basic realm="hatchlore", charset="UTF-8"`)
		return errPassword
	}
	switch r.Method {
	case http.MethodGet, http.MethodHead:
		return nil
	case http.MethodPost:
		return g.admitForm(w, r)
	}
	return refuse.With(http.StatusMethodNotAllowed, "this page takes no such request")
}

func setHeaders(h http.Header) {
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "same-origin") // with no-referrer browsers send forms without their origin
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cache-Control", "no-store")
}

// knows reports whether the request gives the password (RFC 7617), where one
// is asked for. Digests have one length, so that comparing them tells nothing.
func (g *Guard) knows(r *http.Request) bool {
	if g.password == "" {
		return true
	}
	_, got, _ := r.BasicAuth()
	want, have := sha256.Sum256([]byte(g.password)), sha256.Sum256([]byte(got))
	if subtle.ConstantTimeCompare(want[:], have[:]) == 1 {
		return true
	}
	if got != "" {
		// One guess after the other, three a second.
		g.guesses.Lock()
		defer g.guesses.Unlock()
		time.Sleep(guessTime)
	}
	return false
}

const guessTime = 300 * time.Millisecond

// admitForm lets a form pass that a page of this server sent. A large body is
// refused by its length before any of it is read, else where it passes the
// bound.
func (g *Guard) admitForm(w http.ResponseWriter, r *http.Request) error {
	if !sameOrigin(r) {
		return errOrigin
	}
	most, parts := g.parts[r.URL.Path]
	if !parts {
		most = maxForm
	}
	if r.ContentLength > most {
		w.Header().Set("Connection", "close")
		return TooLarge(most)
	}
	r.Body = http.MaxBytesReader(w, r.Body, most)
	if parts {
		return nil
	}
	if err := r.ParseForm(); err != nil {
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			return TooLarge(most)
		}
		return refuse.Wrong("this form cannot be read; load the page again")
	}
	return g.Check(r.PostForm.Get(TokenField))
}

// Check refuses a token that is not this page's.
func (g *Guard) Check(token string) error {
	if subtle.ConstantTimeCompare([]byte(token), []byte(g.token)) != 1 {
		return errToken
	}
	return nil
}

// sameOrigin reports whether a form comes from a page of this server: by its
// Origin, by what the browser says of the sender (W3C Fetch Metadata), else by
// its token alone.
func sameOrigin(r *http.Request) bool {
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
