package process

import (
	"errors"
	"slices"
	"time"

	"hatchlore/ingest/pdf"
)

// reading is one job's state in the parent: what has come back so far, and how
// long it may still take.
type reading struct {
	opt      Options
	begun    time.Time
	head     head
	file     pdf.File
	second   bool  // pdfium refused the file
	stopped  error // what the last page that stopped the engine did
	answered bool  // the process said what is wrong and is ready for more
	png      []byte
	text     func(page int, text string)
}

// left is how long the process may be silent: the limit of one page, or what
// remains for the whole file.
func (j *reading) left() time.Duration {
	whole := j.opt.Time + time.Duration(j.head.pages)*j.opt.TimePerPage
	return max(0, min(j.opt.Time, time.Until(j.begun.Add(whole))))
}

func (j *reading) overdue() bool { return j.left() == 0 }

// take works one frame in.
func (j *reading) take(f frame) (done bool, err error) {
	switch f.kind {
	case frameSecond:
		j.second = true
	case frameHead:
		if j.head, err = unpackHead(f.body); err != nil {
			return false, err
		}
		j.file.Engine, j.file.Title = j.head.engine, j.head.title
		if j.second {
			j.file.Note = "damaged, and opened with the second reader only"
		}
	case framePage:
		page, err := unpackPage(f.body)
		if err != nil {
			return false, err
		}
		j.file.Pages = append(j.file.Pages, page)
	case frameText:
		u := unpacker{b: f.body}
		page, text := u.uint(), u.text()
		if u.bad {
			return false, errFrame
		}
		if j.text != nil {
			j.text(page, text)
		}
	case framePicture:
		j.png = slices.Clone(f.body)
	case frameDone:
		return true, nil
	case frameFault:
		return true, j.fault(f.body)
	default:
		return false, errFrame
	}
	return false, nil
}

func (j *reading) fault(body []byte) error {
	err := unpackFault(body)
	j.answered = !errors.Is(err, pdf.ErrEngine) && !errors.Is(err, errFrame)
	return err
}

// blame turns the end of a process into what is wrong with the file.
func (j *reading) blame(err error) error {
	if j.second && stopsAtPage(err) {
		return pdf.ErrDamaged
	}
	if errors.Is(err, errGone) {
		return pdf.ErrEngine
	}
	return err
}

// resume readies the job for a fresh process.
func (j *reading) resume() { j.answered = false }

// giveUp marks the pages behind the last one as unread.
func (j *reading) giveUp() {
	for n := len(j.file.Pages) + 1; n <= j.head.pages; n++ {
		j.file.Pages = append(j.file.Pages, pdf.Page{Number: n, Err: "not reached, because pages before it could not be read"})
	}
}

// finish returns the file if any of it was read.
func (j *reading) finish(path string) (*pdf.File, error) {
	for i := range j.file.Pages {
		if j.file.Pages[i].Err == "" {
			return &j.file, nil
		}
	}
	if len(j.file.Pages) == 0 {
		return nil, named(path, pdf.ErrNoPages)
	}
	if j.stopped != nil {
		return nil, named(path, j.blame(j.stopped))
	}
	return nil, named(path, pdf.ErrDamaged)
}
