package process

import (
	"bufio"
	"errors"
	"io"
	"os"

	"hatchlore/ingest/pdf"
	"hatchlore/ingest/pdf/pdfium"
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
	if s.engine, err = pdfium.Start(pdfium.CacheFolder()); err != nil {
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
		f, err := readFrame(r, nil)
		if err != nil {
			os.Exit(0)
		}
		requests <- f
	}
}

type server struct {
	engine *pdfium.Engine
	out    *bufio.Writer
	packed []byte // the page sent last; its memory is used again
}

func (s *server) send(kind frameKind, body []byte) error { return writeFrame(s.out, kind, body) }

func (s *server) sendPage(page *pdf.Page) error {
	s.packed = packPage(s.packed[:0], page)
	return s.send(framePage, s.packed)
}

// refuse sends what is wrong with the file.
func (s *server) refuse(err error) error { return s.send(frameFault, packFault(err)) }

// lost says that the engine failed, and ends this process.
func (s *server) lost() error { return errors.Join(s.refuse(pdf.ErrEngine), s.engine.Err()) }
