package taxon

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence/store"
)

func aliasCommand(at *library.Place) *cobra.Command {
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
	usage.MayBeEmpty(cmd, "reason")
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		want := 2
		if remove {
			want = 1
		}
		if len(args) != want && (remove || len(args) > 0) {
			return usage.Errorf("write 'species alias OLD NEW', or 'species alias --remove OLD', with quotes around names of two words")
		}
		return at.Use(func(lib *library.Library) error {
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
			return terminal.Say(w, "%s", readAsWords(alias, unclaimed))
		})
	}
	return cmd
}

// readAsWords tells of an alias that was taken, and which of its names no paper
// has: a name may be prepared before its papers come, or be misspelt.
func readAsWords(a store.Alias, unclaimed []string) string {
	s := a.Old + " is read as " + a.New
	if len(unclaimed) == 0 {
		return s
	}
	return s + fmt.Sprintf("; no paper of the library has a claim on %s yet: if it is misspelt, take it back by 'hatchlore species alias --remove \"%s\"'",
		strings.Join(unclaimed, " or on "), a.Old)
}

func removeAlias(cmd *cobra.Command, lib *library.Library, old string) error {
	known, err := lib.Store().RemoveAlias(cmd.Context(), old)
	if err != nil {
		return err
	}
	if !known {
		return fmt.Errorf("%s is read as itself already; 'hatchlore species alias' lists the others", old)
	}
	return terminal.Say(cmd.OutOrStdout(), "%s is read as itself again", old)
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
	return listing.Emit(cmd.OutOrStdout(), format, records, func(w io.Writer, records []aliasRecord) error {
		if len(records) == 0 {
			_, err := fmt.Fprintln(w, "every name is read as itself")
			return err
		}
		g := &terminal.Grid{Heads: []string{"name", "read as", "since", "reason"}}
		for _, r := range records {
			g.Add(r.Old, r.New, r.Made, strings.TrimSpace(r.Reason))
		}
		return g.Print(w, 0, terminal.Width(w))
	})
}
