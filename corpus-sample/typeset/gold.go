package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"unicode"

	corpus "hatchlore/corpus-sample"
)

// gold writes every labelled block of every paper with the page on which the
// finished PDF prints it. Headings and reference lists are no passages.
func gold(src, build, out string) error {
	papers, err := ReadAll(src)
	if err != nil {
		return err
	}
	var lines bytes.Buffer
	enc := json.NewEncoder(&lines)
	enc.SetEscapeHTML(false)
	for _, p := range papers {
		pages, err := printed(filepath.Join(build, p.Name+".pdf"))
		if err != nil {
			return fmt.Errorf("%s: %w", p.Name, err)
		}
		passages, err := pages.passagesOf(p)
		if err != nil {
			return err
		}
		for _, line := range passages {
			if err := enc.Encode(line); err != nil {
				return err
			}
		}
	}
	return os.WriteFile(out, lines.Bytes(), 0o644)
}

// passagesOf finds a paper's labelled blocks, and their claims, on its pages.
func (pages pageTexts) passagesOf(p *Paper) ([]corpus.Passage, error) {
	var out []corpus.Passage
	title := titled(p)
	for _, blk := range p.Blocks {
		switch blk.Kind {
		case Heading, Subheading:
			title = headed(p, blk.Text)
			continue
		case Reference:
			continue
		}
		line := corpus.Passage{
			ID: fmt.Sprintf("%s-%02d", p.Field("id"), len(out)+1), Title: title, Source: p.Name + ".pdf",
			Lang: p.Field("lang"), Text: blk.Plain(), Claims: []corpus.Claim{},
		}
		if blk.Kind == Table || blk.Kind == Figure {
			line.Title = titled(p) // set where the page had room
		}
		if line.Page = pages.of(line.Text); line.Page == 0 {
			return nil, fmt.Errorf("%s:%d: not found in the PDF: %.60q", p.Name, blk.Line, line.Text)
		}
		for _, c := range blk.Claims {
			if c.Page = pages.from(line.Page, c.Quote); c.Page == 0 {
				c.Page = line.Page
			}
			line.Claims = append(line.Claims, c)
		}
		out = append(out, line)
	}
	return out, nil
}

// titled is the paper's title. A passage is read by itself, so that a title
// that names its animal by an everyday name has the species in brackets.
func titled(p *Paper) string {
	title := plain(p.Field("title"))
	if about := p.Field("about"); about != "" {
		title += " (" + about + ")"
	}
	return title
}

// headed is the title of the passages below a heading: where the paper's own
// title names several animals and the heading one of them, the running title
// and the heading, with the name written out, since nothing else tells of which
// one they speak.
func headed(p *Paper, heading string) string {
	var inTitle []string
	for _, taxon := range p.Taxa {
		if strings.Contains(p.Field("title"), "*"+taxon+"*") {
			inTitle = append(inTitle, taxon)
		}
	}
	if len(inTitle) < 2 {
		return titled(p)
	}
	for _, taxon := range inTitle {
		genus, species, _ := strings.Cut(taxon, " ")
		if short := "*" + genus[:1] + ". " + species + "*"; strings.Contains(heading, short) {
			return plain(p.Field("short") + ". " + strings.ReplaceAll(heading, short, taxon))
		}
	}
	return titled(p)
}

// pageTexts holds each page's letters and digits, nothing else.
type pageTexts []string

func printed(pdf string) (pageTexts, error) {
	text, err := exec.Command("pdftotext", "-enc", "UTF-8", pdf, "-").Output()
	if err != nil {
		return nil, fmt.Errorf("pdftotext: %w", err)
	}
	var pages pageTexts
	for _, t := range strings.Split(strings.TrimSuffix(string(text), "\f"), "\f") {
		pages = append(pages, bare(t))
	}
	return pages, nil
}

// of is the page on which text begins, 0 when it is nowhere.
func (p pageTexts) of(text string) int { return p.from(1, text) }

// from is the first page at or after first on which text begins. Text may run
// over a page's end, so ever shorter beginnings are tried.
func (p pageTexts) from(first int, text string) int {
	b := []rune(bare(text))
	for _, n := range []int{len(b), 80, 40, 24, 14} {
		if n > len(b) {
			continue
		}
		for i := first - 1; i < len(p); i++ {
			if strings.Contains(p[i], string(b[:n])) {
				return i + 1
			}
		}
	}
	return 0
}

var ligatures = strings.NewReplacer("ﬁ", "fi", "ﬂ", "fl", "ﬀ", "ff", "ﬃ", "ffi", "ﬄ", "ffl", "²", "2")

func bare(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, ligatures.Replace(s))
}
