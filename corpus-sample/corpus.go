// Package corpus is the sample on which hatchlore shows itself: papers about
// the hatching of two pool shrimps, as PDFs, with every statement that they
// make about hatching labelled by hand.
//
// Everything in it is invented: the animals, the people, the places, the
// journals and the figures; every page says so. It refuses to serve as a
// source for raising any animal, and as a measure of how well a reader does on
// papers that it was not written for.
package corpus

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"hatchlore/evidence"
)

//go:embed pdf/*.pdf gold.jsonl truth.json table.tsv
var sample embed.FS

// Passage is one printed paragraph, table or caption of a sample paper with
// all the claims that it makes, and none when Claims is empty.
type Passage struct {
	ID     string  `json:"id"`
	Title  string  `json:"title"` // of the paper
	Source string  `json:"source"`
	Page   int     `json:"page"` // of the PDF, from 1, on which the passage begins
	Lang   string  `json:"lang"`
	Text   string  `json:"text"` // line-end hyphens undone; a table's rows one a line
	Claims []Claim `json:"claims"`
}

// Claim is a labelled claim. Its values are in the canonical unit of its
// factor, with an open end nil, and Quote is a stretch of the passage's text.
type Claim struct {
	Taxon      string           `json:"taxon"`
	Stage      evidence.Stage   `json:"stage"` // as the paper defines what it counted
	Factor     evidence.Factor  `json:"factor"`
	Bearing    evidence.Bearing `json:"bearing"`
	Low        *float64         `json:"low"`
	High       *float64         `json:"high"`
	Unit       string           `json:"unit"`
	Category   string           `json:"category"`
	Secondhand bool             `json:"secondhand"`
	Quote      string           `json:"quote"`
	Page       int              `json:"page"` // on which the quote begins
}

// Files returns the papers, one PDF a file, without folders.
func Files() fs.FS {
	files, err := fs.Sub(sample, "pdf")
	if err != nil { // only for a path that is not valid, and this one is
		return sample
	}
	return files
}

// Write puts the sample papers into dir. Files that are there already
// are left alone where they are the same.
func Write(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("the sample papers cannot be written: %w", err)
	}
	files := Files()
	return fs.WalkDir(files, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(files, path)
		if err != nil {
			return err
		}
		to := filepath.Join(dir, path)
		if have, err := os.ReadFile(to); err == nil && string(have) == string(data) {
			return nil
		}
		if err := os.WriteFile(to, data, 0o644); err != nil {
			return fmt.Errorf("the sample papers cannot be written: %w", err)
		}
		return nil
	})
}

// Names returns the file names of the papers in the order of the alphabet.
func Names() []string {
	entries, err := fs.ReadDir(sample, "pdf")
	if err != nil { // the folder is part of the program
		return nil
	}
	names := make([]string, len(entries))
	for i, e := range entries {
		names[i] = e.Name()
	}
	return names
}

// Holds reports whether a file with the given SHA-256, in hex, is a paper of
// the sample, so that nothing made from it goes out without saying that it is
// invented.
func Holds(hash string) bool {
	for _, name := range Names() {
		data, err := sample.ReadFile("pdf/" + name)
		if err == nil && hash == fmt.Sprintf("%x", sha256.Sum256(data)) {
			return true
		}
	}
	return false
}

// IsInvented reports whether an animal lives in the sample only: its genus, or
// it, is one that the sample made up.
func IsInvented(taxon string) bool {
	genus, _, _ := strings.Cut(strings.TrimSpace(taxon), " ")
	return strings.EqualFold(genus, "Lirrobranchus") || strings.EqualFold(genus, "Quennocaris")
}

// InventedNote says of an animal of the sample that it does not exist; "" of
// every other.
func InventedNote(taxon string) string {
	if !IsInvented(taxon) {
		return ""
	}
	return "Invented: " + taxon + " lives in hatchlore's own sample of papers only; nothing here may guide the raising of any animal."
}

// Gold returns the labelled passages, paper by paper in reading order.
func Gold() ([]Passage, error) {
	data, err := sample.ReadFile("gold.jsonl")
	if err != nil {
		return nil, fmt.Errorf("gold.jsonl: %w", err)
	}
	var out []Passage
	sc := bufio.NewScanner(bytes.NewReader(data))
	sc.Buffer(nil, 1<<20)
	for line := 1; sc.Scan(); line++ {
		var p Passage
		if err := json.Unmarshal(sc.Bytes(), &p); err != nil {
			return nil, fmt.Errorf("gold.jsonl line %d: %w", line, err)
		}
		out = append(out, p)
	}
	return out, sc.Err()
}

// Conflict is one disagreement that was built into the papers, with what
// could explain it away. Its values are those of the labelled claims.
type Conflict struct {
	ID        string          `json:"id"` // that of package species
	Taxon     string          `json:"taxon"`
	Factor    evidence.Factor `json:"factor"`
	Kind      string          `json:"kind"` // apart, opposed or need
	Sides     []Side          `json:"sides"`
	Elsewhere []Side          `json:"elsewhere"` // of a disputed value: where else the sides saw eggs hatch
	Reasons   []Reason        `json:"reasons"`
}

// Side is one side of a conflict: every paper of it holds at least one claim
// with this bearing that lies between Low and High, or has this category.
type Side struct {
	Of        []int            `json:"of"` // sides, from 1, that stand elsewhere as well
	Bearing   evidence.Bearing `json:"bearing"`
	Low       *float64         `json:"low"`
	High      *float64         `json:"high"`
	Unit      string           `json:"unit"`
	Category  string           `json:"category"`
	FirstHand int              `json:"firsthand"` // papers that found it themselves
	Papers    []string         `json:"papers"`    // file names
}

// Reason says what could explain a conflict away, and which papers it compares.
type Reason struct {
	Kind   string   `json:"kind"` // unit-slip, stage, echo, population or conditions
	What   string   `json:"what"` // of conditions: the factor or the handling
	Papers []string `json:"papers"`
	Note   string   `json:"note"`
}

// Truth returns the conflicts that a careful reader finds in the papers.
func Truth() ([]Conflict, error) {
	data, err := sample.ReadFile("truth.json")
	if err != nil {
		return nil, fmt.Errorf("truth.json: %w", err)
	}
	var out []Conflict
	if err := json.Unmarshal(data, &out); err != nil {
		return nil, fmt.Errorf("truth.json: %w", err)
	}
	return out, nil
}
