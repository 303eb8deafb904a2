package pdf

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
)

// envReader marks a process as a reader; its value is the protocol's number.
const envReader = "HATCHLORE_READER"

// Serving reports whether this process was started to read PDFs for another.
// It must then do nothing but [Serve].
func Serving() bool { return os.Getenv(envReader) != "" }

// Serve reads PDFs on request until stdin ends. It returns an error when the
// engine does not start or has failed; the parent then starts a new process.
func Serve(stdin io.Reader, stdout io.Writer) error {
	guardProcess()
	// The engines must not print into the pipe.
	os.Stdout = os.Stderr
	s := &server{out: bufio.NewWriterSize(stdout, 1<<16)}
	requests := make(chan frame)
	go listen(stdin, requests)
	var err error
	if s.engine, err = startEngine(cacheFolder()); err != nil {
		return err
	}
	if err := s.send(frameReady, nil); err != nil {
		return err
	}
	for f := range requests {
		q, err := unpackRequest(f.body)
		if err != nil {
			return err
		}
		if err := s.answer(q); err != nil {
			return err
		}
	}
	return nil
}

// listen passes requests on, and ends the process with its parent: the end of
// stdin in the middle of a page must not leave a reader behind.
func listen(stdin io.Reader, requests chan<- frame) {
	r := bufio.NewReader(stdin)
	for {
		f, err := readFrame(r)
		if err != nil {
			os.Exit(0)
		}
		requests <- f
	}
}

type server struct {
	engine *engine
	out    *bufio.Writer
}

func (s *server) send(kind frameKind, body []byte) error { return writeFrame(s.out, kind, body) }

// fail sends a fault with its detail.
func (s *server) fail(f fault, detail string) error {
	return s.send(frameFault, append([]byte{byte(f)}, detail...))
}

// answer does one job. An error means that this process is of no more use.
func (s *server) answer(q request) error {
	data, why, detail := load(q.path)
	if why != faultNone {
		return s.fail(why, detail)
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

func load(path string) ([]byte, fault, string) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, faultFile, reason(err)
	}
	if info.IsDir() {
		return nil, faultFile, "it is a folder"
	}
	if info.Size() > maxFile {
		return nil, faultFile, fmt.Sprintf("it has %d MB and %d is the most", info.Size()>>20, maxFile>>20)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, faultFile, reason(err)
	}
	if len(data) == 0 {
		return nil, faultEmpty, ""
	}
	return data, faultNone, ""
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
	d, why := s.engine.open(data)
	if s.engine.err != nil {
		return errors.Join(s.fail(faultEngine, ""), s.engine.err)
	}
	switch {
	case why == faultProtected:
		return s.fail(why, "")
	case why != faultNone && !looksLikePDF(data):
		return s.readSecond(data, from, faultNotPDF)
	case why != faultNone:
		return s.readSecond(data, from, why)
	}
	if d.pages < 1 {
		why := d.pageless()
		d.close()
		return s.readSecond(data, from, why)
	}
	if err := s.send(frameHead, head{d.pages, "pdfium", d.title()}.pack()); err != nil {
		return err
	}
	for n := from; n <= d.pages; n++ {
		page := d.page(n)
		if d.err != nil {
			return errors.Join(s.fail(faultEngine, ""), fmt.Errorf("page %d: %w", n, d.err))
		}
		if err := s.send(framePage, packPage(&page)); err != nil {
			return err
		}
	}
	d.close()
	return errors.Join(s.send(frameDone, nil), s.engine.err)
}

// readSecond reads what pdfium refused; refused says why, should the other
// reader do no better.
func (s *server) readSecond(data []byte, from int, refused fault) error {
	if err := s.send(frameSecond, nil); err != nil {
		return err
	}
	sec, err := openSecond(data)
	if err != nil {
		return s.fail(refused, "")
	}
	pages, err := sec.pages()
	if err != nil || pages > 100_000 {
		return s.fail(refused, "")
	}
	if pages < 1 && refused == faultDamaged {
		refused = faultNoPages
	}
	if pages < 1 {
		return s.fail(refused, "")
	}
	if err := s.send(frameHead, head{pages: pages, engine: "ledongthuc"}.pack()); err != nil {
		return err
	}
	for n := from; n <= pages; n++ {
		page := sec.page(n)
		if err := s.send(framePage, packPage(&page)); err != nil {
			return err
		}
	}
	return s.send(frameDone, nil)
}

func (s *server) witness(data []byte, pages []int) error {
	sec, err := openSecond(data)
	if err != nil {
		return s.send(frameDone, nil)
	}
	for _, n := range pages {
		text, err := sec.text(n)
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
	d, why := s.engine.open(data)
	if s.engine.err != nil {
		return errors.Join(s.fail(faultEngine, ""), s.engine.err)
	}
	if why != faultNone {
		return s.fail(why, "")
	}
	defer d.close()
	if q.from < 1 || q.from > d.pages {
		return s.fail(faultPage, fmt.Sprintf("it has %d pages, so no page %d", d.pages, q.from))
	}
	png, err := d.picture(q.from, q.dpi)
	if d.err != nil {
		return errors.Join(s.fail(faultEngine, ""), d.err)
	}
	if err != nil {
		return s.fail(faultPage, err.Error())
	}
	if err := s.send(framePicture, png); err != nil {
		return err
	}
	return s.send(frameDone, nil)
}
