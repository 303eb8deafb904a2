// Package demo has the command that walks the whole way on invented papers.
//
// It refuses to touch the keeper's own library, and says of everything that it
// shows that it is invented.
package demo

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/papers"
	"hatchlore/cmd/internal/reader"
	"hatchlore/cmd/internal/search"
	"hatchlore/cmd/internal/taxon"
	"hatchlore/cmd/internal/trialprint"
	"hatchlore/cmd/internal/usage"
	corpus "hatchlore/corpus-sample"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/design"
	"hatchlore/query"
)

// Command is the command that walks through the sample.
func Command(at *library.Place) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "demo",
		Short: "the whole way on invented papers: ingest, search, evidence, conflicts, a trial plan",
		Example: `  hatchlore demo
  hatchlore serve --library ~/.local/share/hatchlore/demo/library`,
		Long: `Writes the sample papers into a folder of its own, ingests them and shows what each command
makes of them. Everything in the sample is invented: animals, people, places and figures. The
folder is that of --library, else 'demo' in the user's data folder; your own library is not touched.`,
		Args: usage.None,
	}
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		dir := at.Folder
		if dir == "" {
			data, err := library.DataFolder()
			if err != nil {
				return err
			}
			dir = filepath.Join(data, "demo")
		}
		return demo(cmd.Context(), dir, cmd.OutOrStdout(), cmd.ErrOrStderr())
	}
	return cmd
}

// The demo's questions. The sample's papers disagree most about the first
// species.
const (
	demoTaxon  = "Lirrobranchus tessulatus"
	demoSearch = `"low oxygen"|"carbon dioxide"`
)

func demo(ctx context.Context, dir string, stdout, stderr io.Writer) error {
	sample := filepath.Join(dir, "papers")
	if err := corpus.Write(sample); err != nil {
		return err
	}
	lib, err := library.Open(filepath.Join(dir, "library"), true)
	if err != nil {
		return err
	}
	return errors.Join(demoSteps(ctx, lib, sample, dir, stdout, stderr), lib.Close())
}

func demoSteps(ctx context.Context, lib *library.Library, sample, dir string, stdout, stderr io.Writer) error {
	at := " --library " + filepath.Join(dir, "library")
	step := func(format string, args ...any) {
		fmt.Fprintf(stdout, "\n$ hatchlore "+format+at+"\n\n", args...)
	}
	fmt.Fprintf(stdout, "Everything here is invented: animals, people, places, journals and figures.\n")
	step("ingest %s", sample)
	if _, err := papers.AddAll(ctx, lib, reader.Find([]string{sample}), listing.Table, stdout, stderr); err != nil {
		return err
	}
	step("papers")
	all, err := lib.Papers(ctx)
	if err != nil {
		return err
	}
	if err := papers.Print(stdout, all); err != nil {
		return err
	}
	step("query '%s' --limit 3", demoSearch)
	answers, err := lib.Searching(ctx)
	if err != nil {
		return err
	}
	hits, err := answers.Search(ctx, query.Search{Words: demoSearch, Limit: 3})
	if err != nil {
		return err
	}
	if err := search.Print(stdout, hits); err != nil {
		return err
	}
	step("evidence %q", demoTaxon)
	e, err := answers.Evidence(ctx, demoTaxon, false, nil)
	if err != nil {
		return err
	}
	if err := taxon.PrintEvidence(stdout, e); err != nil {
		return err
	}
	step("conflicts %q", demoTaxon)
	d, err := answers.Conflicts(ctx, demoTaxon)
	if err != nil {
		return err
	}
	if err := taxon.PrintDisputes(stdout, d); err != nil {
		return err
	}
	return demoPlan(d, stdout, step)
}

// demoEggs is what the trade's keeper has: about two hundred picked by hand.
const demoEggs = 240

func demoPlan(d query.Disputes, stdout io.Writer, step func(string, ...any)) error {
	chambers, err := trial.ParseChambers([]string{"5", "12"})
	if err != nil {
		return err
	}
	start, err := trial.ParseDay("2026-01-10")
	if err != nil {
		return err
	}
	questions, err := d.ToSettle(nil)
	if err != nil {
		return err
	}
	step("trial plan %q --eggs %d --chambers 5,12 --start %s --seed 7", demoTaxon, demoEggs, start)
	req := design.Request{Taxon: d.Taxon, Questions: questions, Eggs: demoEggs, Chambers: chambers, Start: start, Seed: 7}
	req.WhatIf = req.HalfAndDouble()
	p, err := design.New(req)
	if err != nil {
		return err
	}
	return trialprint.Plan(stdout, p, false)
}
