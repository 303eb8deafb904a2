// Package parcel hands a library's claims, decisions, references, lots and trials
// on as open files, and takes such files in.
//
// It refuses to tell where eggs were collected, by whom and by which permit,
// unless the copy is the keeper's own; to write over other files; and to take in
// a part of a folder.
package parcel

import (
	"context"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
)

// Export is the command that writes what the library knows as open files.
func Export(at *library.Place) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "export FOLDER",
		Short: "claims, decisions, references, lots and trials as open files, to keep or to hand to another keeper",
		Long: `Writes what the library knows into FOLDER: claims, decisions, lots of eggs, trials and their counts
as JSON and as CSV for a spreadsheet, references as CSL-JSON and BibTeX, each quote as a W3C Web
Annotation with the words around it. The papers themselves stay where they are, and no path of
this machine is told. Of lots the exact place, the collector and the permit stay here too, and your
trials are told as those of --keeper, or of another keeper, since whoever reads of an own trial takes
it for his own; --private makes a copy for yourself, with all of it. 'hatchlore import' reads the
folder into another library. The same library gives the same bytes.`,
		Example: `  hatchlore export --keeper "Jo Alder" shrimps-2026
  hatchlore export --private my-own-copy`,
		Args: usage.One("the folder to write"),
	}
	private := cmd.Flags().Bool("private", false, "for your own copy: exact places, collectors and permits of lots too, and trials as your own")
	keeper := cmd.Flags().String("keeper", "", "by what name your trials are cited there (default \""+store.AnotherKeeper+"\")")
	usage.Either(cmd, "private", "keeper")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return at.Use(func(lib *library.Library) error {
			p, err := Of(cmd.Context(), lib, *private, *keeper)
			if err != nil {
				return err
			}
			if err := writeParcel(args[0], p); err != nil {
				return err
			}
			return terminal.Say(cmd.OutOrStdout(), "%s: %s, %s, %s, %s%s", args[0], trial.Plural(len(p.Papers), "paper"),
				trial.Plural(len(p.Claims), "claim"), trial.Plural(len(p.Decisions), "decision"), trial.Plural(len(p.Aliases), "name"),
				withCounts(counted{len(p.Experiments), "experiment"}, counted{len(p.Lots), "lot"}, counted{len(p.Trials), "trial"}))
		})
	}
	return cmd
}

// Of is what the library knows; unless private, as another keeper may
// read it, who is told whose trials these are.
func Of(ctx context.Context, lib *library.Library, private bool, keeper string) (store.Parcel, error) {
	p, err := lib.Store().Parcel(ctx)
	if err == nil && !private {
		p = p.HandedOn(keeper)
	}
	return p, err
}

// Import is the command that takes in what another keeper exported.
func Import(at *library.Place) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "import FOLDER",
		Short: "take in what another keeper's 'hatchlore export' wrote",
		Long: `Merges an exported folder into the library, all of it or nothing. Nothing that is here is lost and
nothing comes twice: papers are known by their content, claims and decisions by what they say, lots
and trials by when they were made. Where both keepers decided on one claim or counted one dish, the
later is in force and the history shows both. Another lot or trial of a name that is here gets a
letter behind its name. Papers that are not here are kept with their claims and without their text,
until you ingest their files.`,
		Example: `  hatchlore import shrimps-2026`,
		Args:    usage.One("a folder that 'hatchlore export' wrote"),
	}
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		p, err := readParcel(args[0])
		if err != nil {
			return err
		}
		return at.UseNew(func(lib *library.Library) error {
			return merge(cmd.Context(), cmd.OutOrStdout(), lib, p)
		})
	}
	return cmd
}

func merge(ctx context.Context, w io.Writer, lib *library.Library, p store.Parcel) error {
	var circular []store.Alias
	var err error
	if p.Aliases, circular, err = lib.Answers().Fitting(ctx, p.Aliases); err != nil {
		return err
	}
	m, err := lib.Store().Merge(ctx, p)
	if err != nil {
		return err
	}
	if m.Any() {
		terminal.Say(w, "added %s, %s, %s, %s%s", trial.Plural(m.Papers, "paper"), trial.Plural(m.Claims, "claim"), trial.Plural(m.Decisions, "decision"), trial.Plural(m.Aliases, "name"),
			withCounts(counted{m.Experiments, "experiment"}, counted{m.Lots, "lot"}, counted{m.Entries, "change"}, counted{m.Trials, "trial"}, counted{m.Looks, "look"}))
	} else {
		fmt.Fprintln(w, "nothing that was not here already")
	}
	if m.Left > 0 {
		terminal.Say(w, "left %s of papers that this library has read itself: its own reading stands", trial.Plural(m.Left, "other reading"))
	}
	for _, a := range m.Clashes {
		terminal.Say(w, "%s is read as %s there; the later of the two decisions stands", a.Old, a.New)
	}
	for _, a := range circular {
		terminal.Say(w, "%s is not read as %s, for here it is the other way round", a.Old, a.New)
	}
	return nil
}

// counted is a number of things that is told where there are any.
type counted struct {
	n    int
	what string
}

func withCounts(all ...counted) string {
	out := ""
	for _, s := range all {
		if s.n > 0 {
			out += ", " + trial.Plural(s.n, s.what)
		}
	}
	return out
}
