package parcel

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/stream"
	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/ingest/bibliography"
	"hatchlore/ingest/reference"
)

// writeParcel writes the files of an export into dir, which is new, empty or an
// older export. The manifest comes last: a folder without it is no export.
func writeParcel(dir string, p store.Parcel) error {
	if err := readyFolder(dir); err != nil {
		return err
	}
	if err := os.Remove(filepath.Join(dir, manifestFile)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s cannot be written: %w", dir, stream.Cause(err))
	}
	for _, f := range parcelFiles(p) {
		var b bytes.Buffer
		if err := f.write(&b); err != nil {
			return fmt.Errorf("%s: %w", f.name, err)
		}
		if err := os.WriteFile(filepath.Join(dir, f.name), b.Bytes(), 0o644); err != nil {
			return fmt.Errorf("%s cannot be written: %w", filepath.Join(dir, f.name), stream.Cause(err))
		}
	}
	return nil
}

// Zip writes the files of an export as an archive of one folder.
func Zip(w io.Writer, p store.Parcel, folder string) error {
	z := zip.NewWriter(w)
	for _, f := range parcelFiles(p) {
		to, err := z.Create(folder + "/" + f.name)
		if err != nil {
			return err
		}
		if err := f.write(to); err != nil {
			return fmt.Errorf("%s: %w", f.name, err)
		}
	}
	return z.Close()
}

// parcelFile is one file of an export.
type parcelFile struct {
	name  string
	write func(io.Writer) error
}

// parcelFiles are the files of an export, the manifest last.
func parcelFiles(p store.Parcel) []parcelFile {
	claims := make([]evidence.Claim, 0, len(p.Claims))
	for _, c := range p.Claims {
		claims = append(claims, c.Claim)
	}
	return []parcelFile{
		{papersFile, func(w io.Writer) error { return emitLines(w, mapped(p.Papers, paperFileOf)) }},
		{claimsFile, func(w io.Writer) error { return emitLines(w, claims) }},
		{decisionsFile, func(w io.Writer) error { return emitLines(w, mapped(p.Decisions, decisionFileOf)) }},
		{aliasesFile, func(w io.Writer) error { return emitLines(w, mapped(p.Aliases, aliasFileOf)) }},
		{experimentsFile, func(w io.Writer) error { return emitLines(w, p.Experiments) }},
		{lotsFile, func(w io.Writer) error { return emitLines(w, mapped(p.Lots, lotFileOf)) }},
		{trialsFile, func(w io.Writer) error { return emitLines(w, mapped(p.Trials, trialFileOf)) }},
		{quotesFile, func(w io.Writer) error { return listing.WriteJSON(w, quotes(p.Claims)) }},
		{claimsSheet, func(w io.Writer) error { return listing.WriteCSV(w, claims) }},
		{decisionsSheet, func(w io.Writer) error { return listing.WriteCSV(w, mapped(p.Decisions, decisionLineOf)) }},
		{aliasesSheet, func(w io.Writer) error { return listing.WriteCSV(w, mapped(p.Aliases, aliasFileOf)) }},
		{lotsSheet, func(w io.Writer) error {
			return listing.WriteCSV(w, mapped(p.Lots, func(l store.ParcelLot) store.Lot { return l.Lot }))
		}},
		{countsSheet, func(w io.Writer) error { return listing.WriteCSV(w, countLines(p.Trials)) }},
		{cslFile, func(w io.Writer) error { return bibliography.WriteCSL(w, mapped(p.Papers, workOf)) }},
		{bibFile, func(w io.Writer) error { return bibliography.WriteBibTeX(w, mapped(p.Papers, workOf)) }},
		{manifestFile, func(w io.Writer) error { return listing.WriteJSON(w, manifest{parcelForm}) }},
	}
}

// readyFolder makes dir, and refuses one that holds other things: nobody's
// files shall be written over.
func readyFolder(dir string) error {
	if err := stream.Folder(dir); err != nil {
		return err
	}
	there, err := os.ReadDir(dir)
	if err != nil {
		return fmt.Errorf("%s cannot be read: %w", dir, stream.Cause(err))
	}
	if len(there) == 0 {
		return nil
	}
	for _, f := range []string{manifestFile, papersFile} { // the latter of an export that was cut short
		if _, err := os.Stat(filepath.Join(dir, f)); err == nil {
			return nil
		}
	}
	return fmt.Errorf("%s holds other files: name a new folder", dir)
}

// emitLines prints a JSON list, one record a line.
func emitLines[T any](w io.Writer, records []T) error {
	var b bytes.Buffer
	b.WriteString("[")
	for i, r := range records {
		if i > 0 {
			b.WriteString(",")
		}
		b.WriteString("\n")
		var line bytes.Buffer
		enc := json.NewEncoder(&line)
		enc.SetEscapeHTML(false)
		if err := enc.Encode(r); err != nil {
			return err
		}
		b.Write(bytes.TrimRight(line.Bytes(), "\n"))
	}
	b.WriteString("\n]\n")
	_, err := w.Write(b.Bytes())
	return err
}

func mapped[A, B any](in []A, f func(A) B) []B {
	out := make([]B, 0, len(in))
	for _, a := range in {
		out = append(out, f(a))
	}
	return out
}

func aliasFileOf(a store.Alias) aliasFile { return aliasFile{a.Old, a.New, a.Reason, a.At.UTC()} }

// quotes are the claims as annotations of their papers.
func quotes(claims []store.ParcelClaim) annotationPage {
	out := annotationPage{Context: "http://www.w3.org/ns/anno.jsonld", Type: "AnnotationPage", Items: []annotation{}}
	for _, c := range claims {
		out.Items = append(out.Items, annotation{
			ID: annotationID(c.ID), Type: "Annotation", Motivation: "describing",
			Body: annotationBody{Type: "TextualBody", Value: saying(c.Claim), Format: "text/plain"},
			Target: annotationTarget{Source: "urn:sha256:" + c.Hash, Selector: fragmentSelector{
				Type: "FragmentSelector", ConformsTo: "http://tools.ietf.org/rfc/rfc8118", Value: fmt.Sprintf("page=%d", c.Page),
				RefinedBy: quoteSelector{Type: "TextQuoteSelector", Exact: c.Quote, Prefix: c.Before, Suffix: c.Behind},
			}},
		})
	}
	return out
}

// workOf is a paper as an entry of a file of references.
func workOf(p store.ParcelPaper) bibliography.Work {
	w := bibliography.Work{Key: p.Key, Kind: bibliography.Other}
	if p.Journal != "" {
		w.Kind = bibliography.Article
	}
	w.Title, w.Year, w.Journal, w.Volume, w.Pages, w.DOI = p.Title, p.Year, p.Journal, p.Volume, p.Extent, p.DOI
	for _, a := range p.Authors {
		family, given, _ := strings.Cut(a, ",")
		w.Authors = append(w.Authors, reference.Author{Family: strings.TrimSpace(family), Given: strings.TrimSpace(given)})
	}
	return w
}
