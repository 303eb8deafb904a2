package process

import (
	"errors"
	"fmt"

	"hatchlore/ingest/pdf"
)

// fault is how what is wrong with a file crosses from the reader process to its
// parent.
type fault byte

const (
	faultFile fault = iota // it could not be opened; the detail says why
	faultPage              // the page asked for does not exist or cannot be drawn; the detail says why
	faultEngine
	faultProtected
	faultCipher
	faultEmpty
	faultNotPDF
	faultDamaged
	faultNoPages
)

// meaning is what each fault without a detail stands for.
var meaning = map[fault]error{
	faultEngine: pdf.ErrEngine, faultProtected: pdf.ErrProtected, faultCipher: pdf.ErrCipher, faultEmpty: pdf.ErrEmpty,
	faultNotPDF: pdf.ErrNotPDF, faultDamaged: pdf.ErrDamaged, faultNoPages: pdf.ErrNoPages,
}

// refusal is a fault with its detail.
type refusal struct {
	fault  fault
	detail string
}

func (r refusal) Error() string {
	if r.fault == faultPage {
		return "cannot be shown: " + r.detail
	}
	return "cannot be opened: " + r.detail
}

func packFault(err error) []byte {
	var r refusal
	if errors.As(err, &r) {
		return append([]byte{byte(r.fault)}, r.detail...)
	}
	for f, e := range meaning {
		if errors.Is(err, e) {
			return []byte{byte(f)}
		}
	}
	return []byte{byte(faultEngine)}
}

func unpackFault(body []byte) error {
	if len(body) == 0 {
		return errFrame
	}
	f := fault(body[0])
	if err := meaning[f]; err != nil {
		return err
	}
	if f != faultFile && f != faultPage {
		return fmt.Errorf("fault %d: %w", f, errFrame)
	}
	return refusal{f, string(body[1:])}
}
