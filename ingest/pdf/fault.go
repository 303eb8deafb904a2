package pdf

import "errors"

// What can be wrong with a file as a whole. Each reads on after the file's
// name: "a.pdf is empty; copy it again from where it came".
var (
	ErrProtected = errors.New("is protected by a password; save an unprotected copy and ingest that")
	ErrCipher    = errors.New("is encrypted in a way that cannot be undone here; open it in another program, print it to a new PDF and ingest that")
	ErrEmpty     = errors.New("is empty; copy it again from where it came")
	ErrNotPDF    = errors.New("is not a PDF, whatever its name says; open it in another program and save it as one")
	ErrDamaged   = errors.New("is damaged beyond reading; fetch a fresh copy")
	ErrNoPages   = errors.New("has no pages; fetch a fresh copy")
	ErrSlow      = errors.New("takes too long to read; print it to a new PDF and ingest that")
	ErrMemory    = errors.New("needs too much memory to read; print it to a new PDF and ingest that")
	ErrEngine    = errors.New("makes the PDF engine fail; print it to a new PDF and ingest that")
)
