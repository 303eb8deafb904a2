package process

import (
	"bytes"
	"errors"
	"fmt"
	"os"

	"hatchlore/ingest/pdf"
	"hatchlore/ingest/pdf/second"
)

// answer does one job. An error means that this process is of no more use.
func (s *server) answer(q request) error {
	data, err := load(q.path)
	if err != nil {
		return s.refuse(err)
	}
	switch q.task {
	case taskWitness:
		return s.witness(data, q.pages)
	case taskPicture:
		return s.picture(data, q)
	default:
		return s.read(data, q.from)
	}
}

// maxFile bounds the file, which is held in memory twice.
const maxFile = 150 << 20

func load(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, refusal{faultFile, reason(err)}
	}
	if info.IsDir() {
		return nil, refusal{faultFile, "it is a folder"}
	}
	if info.Size() > maxFile {
		return nil, refusal{faultFile, fmt.Sprintf("it has %d MB and %d is the most", info.Size()>>20, maxFile>>20)}
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, refusal{faultFile, reason(err)}
	}
	if len(data) == 0 {
		return nil, pdf.ErrEmpty
	}
	return data, nil
}

// reason strips the path, which the parent names, from a file error.
func reason(err error) string {
	var p *os.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

// looksLikePDF looks for the header where readers commonly accept it: within
// the first 1,024 bytes (ISO 32000-1, implementation note 13 of PDF 1.7).
func looksLikePDF(data []byte) bool {
	return bytes.Contains(data[:min(len(data), 1024)], []byte("%PDF-"))
}

func (s *server) read(data []byte, from int) error {
	d, err := s.engine.Open(data)
	switch {
	case s.engine.Err() != nil:
		return s.lost()
	case errors.Is(err, pdf.ErrProtected):
		return s.refuse(err)
	case err != nil && !looksLikePDF(data):
		return s.readSecond(data, from, pdf.ErrNotPDF)
	case err != nil:
		return s.readSecond(data, from, err)
	}
	if d.Pages < 1 {
		err := d.Pageless()
		d.Close()
		return s.readSecond(data, from, err)
	}
	if err := s.send(frameHead, head{d.Pages, "pdfium", d.Title()}.pack()); err != nil {
		return err
	}
	var page pdf.Page
	for n := from; n <= d.Pages; n++ {
		page = d.Page(n, page.Chars)
		if s.engine.Err() != nil {
			return s.lost()
		}
		if err := s.sendPage(&page); err != nil {
			return err
		}
	}
	d.Close()
	return errors.Join(s.send(frameDone, nil), s.engine.Err())
}

// readSecond reads what pdfium refused; refused says why, should the other
// reader do no better.
func (s *server) readSecond(data []byte, from int, refused error) error {
	if err := s.send(frameSecond, nil); err != nil {
		return err
	}
	file, err := second.Open(data)
	if err != nil {
		return s.refuse(refused)
	}
	pages, err := file.Pages()
	if err != nil || pages > 100_000 {
		return s.refuse(refused)
	}
	if pages < 1 && errors.Is(refused, pdf.ErrDamaged) {
		refused = pdf.ErrNoPages
	}
	if pages < 1 {
		return s.refuse(refused)
	}
	if err := s.send(frameHead, head{pages: pages, engine: "ledongthuc"}.pack()); err != nil {
		return err
	}
	for n := from; n <= pages; n++ {
		page := file.Page(n)
		if err := s.sendPage(&page); err != nil {
			return err
		}
	}
	return s.send(frameDone, nil)
}

func (s *server) witness(data []byte, pages []int) error {
	file, err := second.Open(data)
	if err != nil {
		return s.send(frameDone, nil)
	}
	for _, n := range pages {
		text, err := file.Text(n)
		if err != nil {
			continue
		}
		var p packer
		p.uint(n)
		p.text(text)
		if err := s.send(frameText, p.b); err != nil {
			return err
		}
	}
	return s.send(frameDone, nil)
}

func (s *server) picture(data []byte, q request) error {
	d, err := s.engine.Open(data)
	if s.engine.Err() != nil {
		return s.lost()
	}
	if err != nil {
		return s.refuse(err)
	}
	defer d.Close()
	if q.from < 1 || q.from > d.Pages {
		return s.refuse(refusal{faultPage, fmt.Sprintf("it has %d pages, so no page %d", d.Pages, q.from)})
	}
	png, err := d.Picture(q.from, q.dpi)
	if s.engine.Err() != nil {
		return s.lost()
	}
	if err != nil {
		return s.refuse(refusal{faultPage, err.Error()})
	}
	if err := s.send(framePicture, png); err != nil {
		return err
	}
	return s.send(frameDone, nil)
}
