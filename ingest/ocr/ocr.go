// Package ocr turns the picture of a page into words with places, through the
// tesseract program where that is installed.
//
// It refuses to mend what it reads: a doubtful character stays as the program
// gave it, with the program's own confidence beside the word.
package ocr

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
)

// ErrMissing says that no tesseract was found on this machine.
var ErrMissing = errors.New("tesseract is not installed; on Debian: apt install tesseract-ocr tesseract-ocr-deu tesseract-ocr-fra")

// Engine is an installed tesseract.
type Engine struct {
	program   string
	languages []string // its own three-letter codes, sorted
}

// Find looks for tesseract and the languages it has. The error is
// [ErrMissing] where there is none.
func Find(ctx context.Context) (*Engine, error) {
	program, err := exec.LookPath("tesseract")
	if err != nil {
		return nil, ErrMissing
	}
	out, err := exec.CommandContext(ctx, program, "--list-langs").Output()
	if err != nil {
		return nil, fmt.Errorf("tesseract does not tell its languages: %w", err)
	}
	var languages []string
	for i, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		if line = strings.TrimSpace(line); i > 0 && line != "osd" && line != "" {
			languages = append(languages, line)
		}
	}
	if len(languages) == 0 {
		return nil, errors.New("tesseract has no language data; on Debian: apt install tesseract-ocr-eng")
	}
	slices.Sort(languages)
	return &Engine{program: program, languages: languages}, nil
}

// Languages returns the installed languages by tesseract's codes.
func (e *Engine) Languages() []string { return slices.Clone(e.languages) }

// wanted are the languages of the trade's papers, most frequent first, by ISO 639-1
// and by tesseract's code. Every further language makes reading slower and a little
// less sure.
var wanted = []struct{ iso, code string }{{"en", "eng"}, {"de", "deu"}, {"fr", "fra"}, {"es", "spa"}, {"it", "ita"}, {"pt", "por"}}

// choose returns the value of -l: the paper's language where it is known and
// installed, else those of the trade that are installed.
func (e *Engine) choose(lang string) string {
	var have []string
	for _, w := range wanted {
		if !slices.Contains(e.languages, w.code) {
			continue
		}
		if w.iso == lang {
			return w.code
		}
		have = append(have, w.code)
	}
	if len(have) == 0 {
		return e.languages[0]
	}
	return strings.Join(have, "+")
}

// Read reads a PNG or JPEG picture of a page at the given resolution in dots
// an inch. lang is an ISO 639-1 code, "" when it is not known.
func (e *Engine) Read(ctx context.Context, picture []byte, dpi int, lang string) ([]Line, error) {
	cmd := exec.CommandContext(ctx, e.program, "stdin", "stdout",
		"-l", e.choose(lang), "--dpi", strconv.Itoa(dpi), "--psm", "3", "-c", "hocr_char_boxes=1", "hocr")
	// Several pages are read side by side; threads inside one page only
	// make them wait for each other.
	cmd.Env = append(os.Environ(), "OMP_THREAD_LIMIT=1")
	cmd.Stdin = bytes.NewReader(picture)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err != nil {
		return nil, fmt.Errorf("tesseract could not read the picture: %s: %w", lastLine(stderr.String()), err)
	}
	return parseHOCR(out), nil
}

func lastLine(s string) string {
	lines := strings.Split(strings.TrimSpace(s), "\n")
	return lines[len(lines)-1]
}
