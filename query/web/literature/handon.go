package literature

import (
	"bytes"
	"net/http"

	"hatchlore/query/web/refuse"
	"hatchlore/query/web/site"
)

// handedOn enters what is made for others: the sheet on a species, and the
// library's knowledge as open files.
func (s *section) handedOn() {
	s.File("GET /species/{taxon}/sheet", s.speciesSheet)
	s.File("GET /export.zip", s.parcel)
}

func (s *section) speciesSheet(w http.ResponseWriter, r *http.Request) error {
	paper := r.URL.Query().Get("paper")
	switch paper {
	case "":
		paper = "a4"
	case "a4", "letter":
	default:
		return refuse.Wrong("sheets are printed on a4 or letter")
	}
	var b bytes.Buffer
	if err := s.press.WriteSheet(r.Context(), &b, r.PathValue("taxon"), paper); err != nil {
		return err
	}
	return site.SendSheet(w, b.Bytes())
}

func (s *section) parcel(w http.ResponseWriter, r *http.Request) error {
	var b bytes.Buffer
	if err := s.press.WriteParcel(r.Context(), &b, r.URL.Query().Get("private") != ""); err != nil {
		return err
	}
	site.Attach(w, "application/zip", "hatchlore-"+s.Today().String()+".zip")
	_, err := b.WriteTo(w)
	return err
}
