package site

import (
	"errors"
	"fmt"
	"log"
	"net/http"
	"net/url"
	"strings"

	"hatchlore/query/web/refuse"
	"hatchlore/species/taxonomy"
)

// trouble is what the page of an error shows.
type trouble struct {
	Sentence string
	Near     []string // names of taxa that may have been meant
	Held     bool     // another process has the library: it may be tried again
	Back     string   // address of the page whose form was refused; "" for none
}

// fail answers with an error in one sentence.
func (s *Site) fail(w http.ResponseWriter, r *http.Request, err error) {
	if r.Context().Err() != nil {
		return // nobody waits for the answer
	}
	t := trouble{Sentence: err.Error(), Back: back(r)}
	var unknown *taxonomy.Unknown
	var several *taxonomy.Ambiguous
	switch {
	case errors.As(err, &unknown):
		t.Near = unknown.Near
		t.Sentence = fmt.Sprintf("no paper of the library tells of “%s”", unknown.Asked)
	case errors.As(err, &several):
		t.Near = several.Fits
		t.Sentence = fmt.Sprintf("“%s” may be any of several", several.Asked)
	}
	status := refuse.Status(err)
	if t.Held = status == http.StatusServiceUnavailable; t.Held {
		w.Header().Set("Retry-After", "5")
	}
	View{Name: "trouble", Title: titleOf(status), Status: status, Data: t}.answer(s, w, r)
}

// back is the page of this host from which a form was sent.
func back(r *http.Request) string {
	from, err := url.Parse(r.Referer())
	if err != nil || r.Method != http.MethodPost || !strings.EqualFold(from.Host, r.Host) {
		return ""
	}
	return from.RequestURI()
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

// Log keeps what the keeper cannot mend for whoever reads the terminal.
func Log(what string, err error) { log.Printf("hatchlore serve: %s: %v", what, err) }
