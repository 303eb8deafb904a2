package web

import (
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
)

// addViews enters the form that takes papers.
func (s *Server) addViews() {
	s.tab("add", uploadPath, "Add papers")
	s.mux.HandleFunc("GET "+uploadPath, func(w http.ResponseWriter, r *http.Request) {
		if s.adding.state().Running {
			// Without script the page follows by being asked for again.
			w.Header().Set("Refresh", "2")
		}
		s.render(w, r, s.addPage())
	})
	s.form("POST "+uploadPath, s.receive)
}

func (s *Server) addPage() view {
	return view{name: "add", title: "Add papers", here: "add", script: "add", data: map[string]any{
		"Job": s.adding.state(), "Kinds": strings.Join(s.shelf.Kinds(), ","), "Most": maxPaper >> 20, "Folder": s.paperFolder(),
	}}
}

// maxPaper bounds one paper, as the PDF reader does.
const maxPaper = 150 << 20

// mostParts bounds the files sent at once.
const mostParts = 500

// receive takes the papers of a form, keeps them in the library's folder and
// has them read. The form is read part by part, its token first.
func (s *Server) receive(r *http.Request) (string, error) {
	parts, err := r.MultipartReader()
	if err != nil {
		return "", wrong("papers are sent with the form on this page")
	}
	known := s.checkToken(r.Header.Get(tokenHeader)) == nil
	var kept []received
	for n := 0; ; n++ {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			s.discard(kept)
			return "", broken(err)
		}
		if part.FormName() == tokenField {
			got, err := io.ReadAll(io.LimitReader(part, 256))
			if err != nil {
				return "", broken(err)
			}
			known = s.checkToken(string(got)) == nil
			continue
		}
		if !known {
			return "", errToken
		}
		if part.FileName() == "" {
			continue
		}
		if n > mostParts {
			s.discard(kept)
			return "", wrong(fmt.Sprintf("that is more than %d files at once; send them in parts, or name the folder: hatchlore ingest FOLDER", mostParts))
		}
		f, err := s.takeFile(part)
		if err != nil {
			s.discard(kept)
			return "", err
		}
		kept = append(kept, f)
	}
	if !known {
		return "", errToken
	}
	if len(kept) == 0 {
		return "", wrong("no file was chosen; choose one or more papers")
	}
	s.adding.take(kept)
	return uploadPath, nil
}

// broken tells why a form could not be read to its end.
func broken(err error) error {
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		return errTooLarge
	}
	return wrong("the papers did not arrive whole; send them again")
}

// takeFile keeps one file of the form, or the reason why it was left.
func (s *Server) takeFile(part *multipart.Part) (received, error) {
	name := fileName(part.FileName())
	if !slices.Contains(s.shelf.Kinds(), strings.ToLower(filepath.Ext(name))) {
		return received{name: name, why: "is no paper: papers are " + strings.Join(s.shelf.Kinds(), " ")}, nil
	}
	return keepFile(s.paperFolder(), name, part)
}

func (s *Server) paperFolder() string {
	dir, err := filepath.Abs(s.shelf.Store().Dir())
	if err != nil { // only where the working folder is gone
		dir = s.shelf.Store().Dir()
	}
	return filepath.Join(dir, "papers")
}
