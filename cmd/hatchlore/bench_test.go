package main

import (
	"bytes"
	"encoding/json"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

func TestBenchRead(t *testing.T) {
	dir := filepath.Join("..", "..", "corpus-sample", "pdf")
	var out, errs bytes.Buffer
	if status := run(t.Context(), []string{"bench", "read", dir, "--rounds", "1", "--no-ocr", "--format", "json"}, nil, &out, &errs); status != statusDone {
		t.Fatalf("status %d: %s", status, errs.String())
	}
	var b struct {
		Files, Pages   int
		Ingest, Ratio  float64
		PagesPerSecond float64 `json:"pages_per_second"`
		Steps          map[string]float64
		OCRPages       int     `json:"ocr_pages"`
		IngestOCR      float64 `json:"ingest_ocr"`
	}
	if err := json.Unmarshal(out.Bytes(), &b); err != nil {
		t.Fatal(err)
	}
	if b.Files != 14 || b.Pages < 40 || b.Ingest <= 0 || b.PagesPerSecond <= 0 {
		t.Errorf("measured %+v", b)
	}
	for _, step := range []string{"read", "assemble", "claims", "witness", "store", "index"} {
		if b.Steps[step] <= 0 {
			t.Errorf("step %s took %v s", step, b.Steps[step])
		}
	}
	if b.Steps["pictures"] != 0 || b.OCRPages != 0 || b.IngestOCR != 0 {
		t.Errorf("without OCR: %+v", b)
	}
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Log("the comparison is left out: ", err)
	} else if b.Ratio <= 0 {
		t.Errorf("ratio %v", b.Ratio)
	}
}

func TestBenchReadWrong(t *testing.T) {
	for _, c := range []struct {
		args   []string
		status int
		says   string
	}{
		{[]string{"bench", "read", t.TempDir()}, statusFail, "no PDFs"},
		{[]string{"bench", "read", "--rounds", "0", "."}, statusUsage, "--rounds"},
		{[]string{"bench", "read"}, statusUsage, "folder"},
	} {
		var out, errs bytes.Buffer
		if status := run(t.Context(), c.args, nil, &out, &errs); status != c.status || !strings.Contains(errs.String(), c.says) {
			t.Errorf("%v: status %d, %q", c.args, status, errs.String())
		}
	}
}
