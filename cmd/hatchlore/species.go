package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/evidence/store"
	"hatchlore/query"
)

func (a *app) speciesCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "species",
		Short: "the species and genera that the library has claims on; other names for them; a sheet to hand on",
		Example: `  hatchlore species
  hatchlore species --format jsonl`,
		Long: `Lists the names on which the library has claims, as papers print them, with what each is read as.
What a paper says in several places is one claim here; 'papers' and 'ingest' count the places.
Names that may be two spellings of one are proposed below and never merged by themselves.`,
		Args: none,
	}
	cmd.AddCommand(a.aliasCommand(), a.speciesSheetCommand())
	format := formatFlag(cmd, formatTable, formatJSONL, formatCSV)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		return a.withLibrary(func(lib *library.Library) error {
			names, err := lib.Answers().Species(cmd.Context())
			if err != nil {
				return err
			}
			return emit(cmd.OutOrStdout(), *format, names.Known, func(w io.Writer, _ []query.KnownName) error {
				return printNames(w, names)
			})
		})
	}
	return cmd
}

func printNames(w io.Writer, names query.Names) error {
	g := &grid{heads: []string{"name", "claims", "first-hand", "papers", "read as"}}
	for _, t := range names.Known {
		name, as := t.Taxon, ""
		if name == "" {
			name = "(no single species)"
		}
		if t.ReadAs != t.Taxon {
			as = t.ReadAs
		}
		g.add(clean(name), fmt.Sprint(t.Claims), fmt.Sprint(t.Firsthand), fmt.Sprint(t.Papers), clean(as))
	}
	width := widthOf(w)
	if err := g.print(w, 0, width); err != nil {
		return err
	}
	var doubtful []string
	for _, p := range names.Doubtful {
		doubtful = append(doubtful, fmt.Sprintf("%s and %s: %s", p.A, p.B, p.Why))
	}
	if len(doubtful) > 0 {
		list(w, "\nperhaps one name in two spellings; 'hatchlore species alias OLD NEW' says so", doubtful, width)
	}
	return nil
}

func (a *app) aliasCommand() *cobra.Command {
	var remove bool
	var reason string
	cmd := &cobra.Command{
		Use:   "alias [OLD NEW]",
		Short: "read one name as another: a synonym, an old genus, a misspelling; without names the list",
		Long: `Reads every claim on OLD as one on NEW, and finds pages under either name. Claims keep the name
that their paper printed, so that --remove takes the alias back without a trace. An alias of a
genus carries its species along.`,
		Example: `  hatchlore species alias "Lirrobranchus tesulatus" "Lirrobranchus tessulatus" --reason "misprint"
  hatchlore species alias --remove "Lirrobranchus tesulatus"`,
	}
	cmd.Flags().BoolVar(&remove, "remove", false, "read this name as itself again")
	cmd.Flags().StringVar(&reason, "reason", "", "why, or who says so")
	format := formatFlag(cmd, formatTable, formatJSONL, formatCSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		want := 2
		if remove {
			want = 1
		}
		if len(args) != want && (remove || len(args) > 0) {
			return usagef("write 'species alias OLD NEW', or 'species alias --remove OLD', with quotes around names of two words")
		}
		return a.withLibrary(func(lib *library.Library) error {
			w := cmd.OutOrStdout()
			switch {
			case remove:
				return removeAlias(cmd, lib, args[0])
			case len(args) == 0:
				return listAliases(cmd, lib, *format)
			}
			alias := store.Alias{Old: args[0], New: args[1], Reason: reason}
			if err := lib.Answers().CheckAlias(cmd.Context(), alias); err != nil {
				return err
			}
			if err := lib.Store().SetAlias(cmd.Context(), alias); err != nil {
				return err
			}
			unclaimed, err := lib.Answers().Unclaimed(cmd.Context(), alias.Old, alias.New)
			if err != nil {
				return err
			}
			_, err = fmt.Fprintln(w, readAsWords(alias, unclaimed))
			return err
		})
	}
	return cmd
}

// readAsWords tells of an alias that was taken, and which of its names no paper
// has: a name may be prepared before its papers come, or be misspelt.
func readAsWords(a store.Alias, unclaimed []string) string {
	s := clean(a.Old) + " is read as " + clean(a.New)
	if len(unclaimed) == 0 {
		return s
	}
	return s + fmt.Sprintf("; no paper of the library has a claim on %s yet: if it is misspelt, take it back by 'hatchlore species alias --remove \"%s\"'",
		clean(strings.Join(unclaimed, " or on ")), clean(a.Old))
}

func removeAlias(cmd *cobra.Command, lib *library.Library, old string) error {
	known, err := lib.Store().RemoveAlias(cmd.Context(), old)
	if err != nil {
		return err
	}
	if !known {
		return fmt.Errorf("%s is read as itself already; 'hatchlore species alias' lists the others", clean(old))
	}
	_, err = fmt.Fprintf(cmd.OutOrStdout(), "%s is read as itself again\n", clean(old))
	return err
}

// aliasRecord is an alias as a listing has it.
type aliasRecord struct {
	Old    string `json:"old"`
	New    string `json:"new"`
	Reason string `json:"reason"`
	Made   string `json:"made"` // day, ISO 8601
}

func listAliases(cmd *cobra.Command, lib *library.Library, format string) error {
	all, err := lib.Store().Aliases(cmd.Context())
	if err != nil {
		return err
	}
	records := make([]aliasRecord, 0, len(all))
	for _, a := range all {
		records = append(records, aliasRecord{a.Old, a.New, a.Reason, a.At.Format("2006-01-02")})
	}
	return emit(cmd.OutOrStdout(), format, records, func(w io.Writer, records []aliasRecord) error {
		if len(records) == 0 {
			_, err := fmt.Fprintln(w, "every name is read as itself")
			return err
		}
		g := &grid{heads: []string{"name", "read as", "since", "reason"}}
		for _, r := range records {
			g.add(clean(r.Old), clean(r.New), r.Made, clean(strings.TrimSpace(r.Reason)))
		}
		return g.print(w, 0, widthOf(w))
	})
}
