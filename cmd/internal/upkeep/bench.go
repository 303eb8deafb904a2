package upkeep

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/reader"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/trial"
)

// Bench is the command that measures, with those below it.
func Bench() *cobra.Command {
	cmd := &cobra.Command{
		Use:    "bench",
		Short:  "how fast this machine is at the program's work",
		Args:   usage.None,
		Hidden: true, // for those who work on the program
	}
	cmd.RunE = func(cmd *cobra.Command, _ []string) error { return cmd.Help() }
	cmd.AddCommand(benchReadCommand())
	return cmd
}

func benchReadCommand() *cobra.Command {
	var noOCR bool
	var rounds int
	cmd := &cobra.Command{
		Use:   "read DIR",
		Short: "time the ingest of a folder's PDFs, all steps, against pdftotext alone",
		Long: `Ingests the PDFs of a folder into a library in a temporary folder: characters, text, claims,
second reading, store and index, the start of the reader processes included. Beside it, in the
same rounds, pdftotext (poppler-utils) turns the same files into text, one process a file. The
fastest round of each counts. On a machine that does other work at the same time, compare the
processor time, which is printed beside. Pages that need OCR are left out of these rounds; what they cost
is measured in one more round and printed apart.`,
		Example: "  hatchlore bench read papers/",
		Args:    usage.One("a folder of PDFs"),
	}
	cmd.Flags().BoolVar(&noOCR, "no-ocr", false, "leave out the round with OCR")
	cmd.Flags().IntVar(&rounds, "rounds", 3, "how many rounds to time")
	format := usage.FormatFlag(cmd, listing.Table, listing.JSON)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if rounds < 1 {
			return usage.Errorf("--rounds takes a number from 1 on")
		}
		result, err := benchRead(cmd.Context(), args[0], rounds, !noOCR)
		if err != nil {
			return err
		}
		if *format == listing.JSON {
			return listing.WriteJSON(cmd.OutOrStdout(), result)
		}
		return result.print(cmd.OutOrStdout())
	}
	return cmd
}

// readBench is what was measured. Times are wall times in seconds; those of
// steps are summed over papers read side by side.
type readBench struct {
	Files          int                `json:"files"`
	Pages          int                `json:"pages"`
	Processors     int                `json:"processors"`
	Ingest         float64            `json:"ingest"`
	PagesPerSecond float64            `json:"pages_per_second"`
	Steps          map[string]float64 `json:"steps"`
	IngestCPU      float64            `json:"ingest_cpu"` // processor time of a round, reader processes included; the least of all rounds
	PDFToText      float64            `json:"pdftotext"`  // 0 where it is not installed
	PDFToTextCPU   float64            `json:"pdftotext_cpu"`
	Ratio          float64            `json:"ratio"`       // ingest to pdftotext
	OCRPages       int                `json:"ocr_pages"`   // in the round with OCR
	IngestOCR      float64            `json:"ingest_ocr"`  // that round, 0 where there was none
	RatioOCR       float64            `json:"ratio_ocr"`   // that round to pdftotext
	OCRSeconds     float64            `json:"ocr_seconds"` // that round's step
}

// benchRead measures. One ingest goes before, uncounted: it fills the engine's
// cache and the system's cache of files.
func benchRead(ctx context.Context, dir string, rounds int, withOCR bool) (readBench, error) {
	files, err := benchFiles(dir)
	if err != nil {
		return readBench{}, err
	}
	b := readBench{Files: len(files), Processors: runtime.NumCPU()}
	if _, err := ingestOnce(ctx, files, false); err != nil {
		return b, err
	}
	for range rounds {
		once, err := ingestOnce(ctx, files, false)
		if err != nil {
			return b, err
		}
		if b.Ingest == 0 || once.wall < b.Ingest {
			b.Ingest, b.Pages, b.Steps = once.wall, once.pages, once.steps
		}
		b.IngestCPU = least(b.IngestCPU, once.cpu)
		before := processorTime()
		text, err := textOnce(ctx, files)
		if err != nil {
			return b, err
		}
		b.PDFToText = least(b.PDFToText, text)
		if text > 0 {
			b.PDFToTextCPU = least(b.PDFToTextCPU, (processorTime() - before).Seconds())
		}
	}
	b.PagesPerSecond = float64(b.Pages) / b.Ingest
	if withOCR {
		once, err := ingestOnce(ctx, files, true)
		if err != nil {
			return b, err
		}
		b.IngestOCR, b.OCRPages, b.OCRSeconds = once.wall, once.scanned, once.steps[string(reader.StepPictures)]
	}
	if b.PDFToText > 0 {
		b.Ratio, b.RatioOCR = b.Ingest/b.PDFToText, b.IngestOCR/b.PDFToText
	}
	return b, nil
}

// least returns the smaller of two figures; 0 is none.
func least(a, b float64) float64 {
	if a == 0 {
		return b
	}
	return min(a, b)
}

func benchFiles(dir string) ([]reader.Found, error) {
	files := slices.DeleteFunc(reader.Find([]string{dir}), func(f reader.Found) bool {
		return f.Kind != reader.Paper || !strings.EqualFold(filepath.Ext(f.Path), ".pdf")
	})
	if len(files) == 0 {
		return nil, fmt.Errorf("there are no PDFs in %s", dir)
	}
	return files, nil
}

// ingested is one timed ingest.
type ingested struct {
	wall, cpu      float64
	pages, scanned int
	steps          map[string]float64
}

func ingestOnce(ctx context.Context, files []reader.Found, withOCR bool) (out ingested, err error) {
	dir, err := os.MkdirTemp("", "hatchlore-bench-*")
	if err != nil {
		return out, fmt.Errorf("no temporary folder can be made: free some space, or name another in TMPDIR (%w)", err)
	}
	defer os.RemoveAll(dir)
	clock := &reader.Clock{}
	how := reader.Options{Clock: clock}
	if !withOCR {
		how.OCR = reader.NoOCR
	}
	begun, before := time.Now(), processorTime()
	r, err := reader.New(ctx, how)
	if err != nil {
		return out, err
	}
	lib, err := library.Open(filepath.Join(dir, "library"), true)
	if err != nil {
		return out, errors.Join(err, r.Close())
	}
	err = lib.AddAll(ctx, r, files, func(o library.Outcome) {
		out.pages += o.Pages
		out.scanned += o.How.OCR
	})
	if err = errors.Join(err, lib.Close(), r.Close()); err != nil {
		return out, err
	}
	out.wall, out.cpu = time.Since(begun).Seconds(), (processorTime() - before).Seconds()
	out.steps = map[string]float64{}
	for _, s := range reader.Steps() {
		out.steps[string(s)] = clock.Spent(s).Seconds()
	}
	return out, nil
}

// textOnce times pdftotext on the files, one process after the other. It
// returns 0 where the program is not installed. A file that it cannot read
// costs its time all the same.
func textOnce(ctx context.Context, files []reader.Found) (float64, error) {
	program, err := exec.LookPath("pdftotext")
	if err != nil {
		return 0, nil
	}
	begun := time.Now()
	for _, f := range files {
		cmd := exec.CommandContext(ctx, program, f.Path, "-")
		cmd.Stdout = io.Discard
		var failed *exec.ExitError
		if err := cmd.Run(); err != nil && (ctx.Err() != nil || !errors.As(err, &failed)) {
			return 0, fmt.Errorf("pdftotext: %w", err)
		}
	}
	return time.Since(begun).Seconds(), nil
}

func (b readBench) print(w io.Writer) error {
	g := &terminal.Grid{}
	seconds := func(s float64) string { return fmt.Sprintf("%.2f s", s) }
	g.Add("files", fmt.Sprint(b.Files), fmt.Sprintf("%d pages, %d processors", b.Pages, b.Processors))
	g.Add("ingest", seconds(b.Ingest), fmt.Sprintf("%.0f pages a second, without OCR", b.PagesPerSecond))
	if b.IngestCPU > 0 {
		g.Add("  processor", seconds(b.IngestCPU), "of all processors together, reader processes included")
	}
	for _, s := range reader.Steps() {
		if s != reader.StepPictures {
			g.Add("  "+string(s), seconds(b.Steps[string(s)]), "summed over papers read side by side")
		}
	}
	if b.PDFToText > 0 {
		g.Add("pdftotext", seconds(b.PDFToText), fmt.Sprintf("ingest takes %.2f times as long", b.Ratio))
		if b.PDFToTextCPU > 0 {
			g.Add("  processor", seconds(b.PDFToTextCPU), fmt.Sprintf("ingest takes %.2f times as much, on %d processors %.2f times the time at best",
				b.IngestCPU/b.PDFToTextCPU, b.Processors, b.IngestCPU/b.PDFToTextCPU/float64(b.Processors)))
		}
	} else {
		g.Add("pdftotext", "none", "it is not installed; on Debian: apt install poppler-utils")
	}
	if b.IngestOCR > 0 {
		g.Add("with OCR", seconds(b.IngestOCR), fmt.Sprintf("%s read from pictures, which took %s", trial.Plural(b.OCRPages, "page"), seconds(b.OCRSeconds)))
	}
	return g.Print(w, 0, terminal.Width(w))
}
