// Package refuse holds the refusals of the local page: errors with the status
// that they are answered with, and the status of every other error.
//
// It refuses to answer with an error that has no sentence for the keeper: what
// it does not know is told as a failure of the page.
package refuse

import (
	"context"
	"errors"
	"net/http"

	"hatchlore/evidence/store"
	"hatchlore/query/index"
	"hatchlore/query/index/question"
	"hatchlore/species/taxonomy"
)

// Error is a refusal with its status (RFC 9110, 15). Its sentence is for the
// keeper.
type Error struct {
	Status int
	Why    string
}

func (e *Error) Error() string { return e.Why }

// With refuses with a status.
func With(status int, why string) error { return &Error{status, why} }

// Wrong refuses what the keeper can put right.
func Wrong(why string) error { return With(http.StatusBadRequest, why) }

// Missing refuses what is not there.
func Missing(why string) error { return With(http.StatusNotFound, why) }

// Nothing refuses an address that leads nowhere.
var Nothing = Missing("there is nothing at this address")

// Status tells the status of an error: what is not there, what another process
// holds, what cannot be written.
func Status(err error) int {
	var own *Error
	var held *store.InUse
	var unknown *taxonomy.Unknown
	var several *taxonomy.Ambiguous
	var fits *store.AmbiguousClaim
	switch {
	case errors.As(err, &own):
		return own.Status
	case errors.As(err, &held), errors.Is(err, index.ErrInUse), errors.Is(err, context.DeadlineExceeded):
		return http.StatusServiceUnavailable
	case errors.As(err, &unknown), errors.Is(err, store.ErrNoPaper), errors.Is(err, store.ErrNoPage), errors.Is(err, store.ErrNoClaim),
		errors.Is(err, store.ErrNoTrial), errors.Is(err, store.ErrNoLot):
		return http.StatusNotFound
	case errors.As(err, &several), errors.As(err, &fits), errors.Is(err, question.ErrNothing), errors.Is(err, index.ErrCommon):
		return http.StatusBadRequest
	case errors.Is(err, store.ErrFull), errors.Is(err, index.ErrFull):
		return http.StatusInsufficientStorage
	case errors.Is(err, store.ErrReadOnly), errors.Is(err, index.ErrReadOnly):
		return http.StatusForbidden
	}
	return http.StatusInternalServerError
}
