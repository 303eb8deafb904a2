package web

import (
	"context"
	"errors"
	"fmt"
	"log"
	"net/http"

	"hatchlore/evidence/store"
	"hatchlore/query/index"
	"hatchlore/species"
)

// refusal is an error with the status that it is answered with. Its sentence
// is for the keeper.
type refusal struct {
	status int
	why    string
}

func (e *refusal) Error() string { return e.why }

// wrong is a request that the keeper can put right.
func wrong(why string) error { return &refusal{http.StatusBadRequest, why} }

// statusOf tells the status of an error: what is not there, what another
// process holds, what cannot be written.
func statusOf(err error) int {
	var r *refusal
	var held *store.InUse
	var unknown *species.UnknownTaxon
	var several *species.AmbiguousTaxon
	var fits *store.AmbiguousClaim
	switch {
	case errors.As(err, &r):
		return r.status
	case errors.As(err, &held), errors.Is(err, index.ErrInUse), errors.Is(err, context.DeadlineExceeded):
		return http.StatusServiceUnavailable
	case errors.As(err, &unknown), errors.Is(err, store.ErrNoPaper), errors.Is(err, store.ErrNoPage), errors.Is(err, store.ErrNoClaim),
		errors.Is(err, store.ErrNoTrial), errors.Is(err, store.ErrNoLot):
		return http.StatusNotFound
	case errors.As(err, &several), errors.As(err, &fits), errors.Is(err, index.ErrNothing), errors.Is(err, index.ErrCommon):
		return http.StatusBadRequest
	case errors.Is(err, store.ErrFull), errors.Is(err, index.ErrFull):
		return http.StatusInsufficientStorage
	case errors.Is(err, store.ErrReadOnly), errors.Is(err, index.ErrReadOnly):
		return http.StatusForbidden
	}
	return http.StatusInternalServerError
}

// trouble is what the page of an error shows.
type trouble struct {
	Sentence string
	Near     []string // names of taxa that may have been meant
	Held     bool     // another process has the library: it may be tried again
}

// fail answers with an error in one sentence.
func (s *Server) fail(w http.ResponseWriter, r *http.Request, err error) {
	if r.Context().Err() != nil {
		return // nobody waits for the answer
	}
	t := trouble{Sentence: err.Error()}
	var unknown *species.UnknownTaxon
	var several *species.AmbiguousTaxon
	switch {
	case errors.As(err, &unknown):
		t.Near = unknown.Near
		t.Sentence = fmt.Sprintf("no paper of the library tells of “%s”", unknown.Asked)
	case errors.As(err, &several):
		t.Near = several.Fits
		t.Sentence = fmt.Sprintf("“%s” may be any of several", several.Asked)
	}
	status := statusOf(err)
	if t.Held = status == http.StatusServiceUnavailable; t.Held {
		w.Header().Set("Retry-After", "5")
	}
	s.render(w, r, view{name: "trouble", title: titleOf(status), status: status, data: t})
}

func titleOf(status int) string {
	switch status {
	case http.StatusNotFound:
		return "Not in the library"
	case http.StatusServiceUnavailable:
		return "The library is busy"
	case http.StatusInternalServerError:
		return "Something failed"
	}
	return "That was refused"
}

// logged keeps what the keeper cannot mend for whoever reads the terminal.
func logged(what string, err error) { log.Printf("hatchlore serve: %s: %v", what, err) }
