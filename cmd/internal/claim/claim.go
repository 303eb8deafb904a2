// Package claim has the commands by which a keeper decides over one claim, or
// adds one by hand.
//
// It refuses to change what was read: a decision stands beside it, with its day
// and reason, and can be taken back.
package claim

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/query"
	"hatchlore/query/wording"
	"hatchlore/species/table"
)

// Command is the command over one claim, with those below it.
func Command(at *library.Place) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "claim",
		Short: "your decision over a claim: accept, amend or reject it, take that back, add one by hand",
		Long: `Looks at one claim and keeps what you decide about it, with date and reason, apart from what was
read. A decision outlives every new reading of the paper, better rules and moved files. A claim is
named by its id in 'hatchlore evidence', or as much of it as tells it from the others.`,
		Args: usage.None,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return usage.Errorf("say what to do with which claim: hatchlore claim show ID")
		},
	}
	cmd.AddCommand(showCommand(at),
		verdictCommand(at, "accept", "a claim is read rightly", evidence.Accepted),
		amendCommand(at),
		verdictCommand(at, "reject", "a claim is wrong, or none: no table or conflict counts it any more", evidence.Rejected),
		verdictCommand(at, "undo", "take back what was decided: what was read stands again, a claim added by hand goes", evidence.Undecided),
		addCommand(at))
	return cmd
}

func oneClaim(cmd *cobra.Command, args []string) error {
	if len(args) != 1 || strings.TrimSpace(args[0]) == "" {
		return usage.Errorf("name one claim by its id in 'hatchlore evidence'; see 'hatchlore %s--help'", usage.NameOf(cmd))
	}
	return nil
}

func showCommand(at *library.Place) *cobra.Command {
	cmd := &cobra.Command{
		Use:     "show ID",
		Short:   "a claim with its page's words, how it was read and all that was decided about it",
		Example: `  hatchlore claim show 3fa2b`,
		Args:    oneClaim,
	}
	format := usage.FormatFlag(cmd, listing.Table, listing.JSON, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return at.Use(func(lib *library.Library) error {
			c, err := lib.Answers().Claim(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			if *format == listing.JSON {
				return listing.WriteJSON(cmd.OutOrStdout(), recordOf(c))
			}
			return listing.Emit(cmd.OutOrStdout(), *format, []claimRecord{recordOf(c)}, func(w io.Writer, _ []claimRecord) error {
				return printClaim(w, c)
			})
		})
	}
	return cmd
}

func verdictCommand(at *library.Place, name, short string, verdict evidence.Verdict) *cobra.Command {
	var reason string
	cmd := &cobra.Command{
		Use:     name + " ID",
		Short:   short,
		Example: `  hatchlore claim ` + name + ` 3fa2b --reason "seen on the page"`,
		Args:    oneClaim,
	}
	cmd.Flags().StringVar(&reason, "reason", "", "why, for whoever reads the history")
	usage.MayBeEmpty(cmd, "reason")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if verdict == evidence.Rejected && strings.TrimSpace(reason) == "" {
			return usage.Errorf(`say why, as in --reason "the table says °F": whoever reads the history wants to know`)
		}
		return at.Use(func(lib *library.Library) error {
			return decide(cmd.Context(), cmd.OutOrStdout(), lib, args[0], store.Decision{Verdict: verdict, Reason: reason})
		})
	}
	return cmd
}

// decide keeps one decision and says how the claim stands now.
func decide(ctx context.Context, w io.Writer, lib *library.Library, beginning string, d store.Decision) error {
	id, err := lib.Store().ClaimID(ctx, beginning)
	if err != nil {
		return err
	}
	if d.Verdict == evidence.Undecided {
		// A claim that no page has now may still have a decision to take back.
		if now, err := lib.Store().Claim(ctx, id); err == nil && now.Decision == evidence.Undecided {
			return fmt.Errorf("claim %s: nothing is decided about it that could be taken back", beginning)
		}
	}
	c, err := lib.Store().Decide(ctx, id, d)
	if err != nil {
		return err
	}
	return printDecided(ctx, w, lib, c)
}

// printDecided says in one line what was decided about a claim.
func printDecided(ctx context.Context, w io.Writer, lib *library.Library, c evidence.Claim) error {
	how := string(c.Decision)
	if c.Decision == evidence.Undecided {
		how = "decision taken back"
		if c.Rule == store.HandRule {
			how = "taken out again"
			if _, err := lib.Store().Head(ctx, c.Paper); errors.Is(err, store.ErrNoPaper) {
				how += ", and its source, from which nothing else was typed"
			}
		}
	}
	return printStanding(ctx, w, lib, c, how)
}

// printStanding says in one line what became of a claim, and how it stands.
func printStanding(ctx context.Context, w io.Writer, lib *library.Library, c evidence.Claim, how string) error {
	n, err := lib.Store().IDLength(ctx)
	if err != nil {
		return err
	}
	return terminal.Say(w, "%s: %s; %s %s, %s (%s, p. %d)", c.ID[:min(n, len(c.ID))], how, c.Factor.Label(), wording.ClaimValue(c), c.Bearing, c.Paper, c.Page)
}

// claimRecord is a claim with its history as a record.
type claimRecord struct {
	query.Claimed
	History []decisionRecord `json:"history"`
}

type decisionRecord struct {
	At      time.Time        `json:"at"`
	Verdict evidence.Verdict `json:"verdict"` // "" took back what was decided before
	Reason  string           `json:"reason"`
	Reading evidence.Claim   `json:"reading"`
	Amended *evidence.Claim  `json:"amended"`
}

func recordOf(c query.Claimed) claimRecord {
	out := claimRecord{Claimed: c, History: []decisionRecord{}}
	for _, d := range c.History {
		out.History = append(out.History, decisionRecord{d.At, d.Verdict, d.Reason, d.Reading, d.Amended})
	}
	return out
}

func printClaim(w io.Writer, c query.Claimed) error {
	g := &terminal.Grid{}
	if c.Claim == nil {
		terminal.Say(w, "claim %s: no page has it now; what was decided about it is kept", c.Short)
	} else {
		fmt.Fprintf(w, "claim %s: %s %s, %s\n", terminal.StyleOf(w).Bold(c.Short), c.Claim.Factor.Label(), terminal.Clean(wording.ClaimValue(*c.Claim)), c.Claim.Bearing)
		claimLines(g, c)
	}
	if err := g.Print(w, 2, terminal.Width(w)); err != nil {
		return err
	}
	if len(c.History) == 0 {
		_, err := fmt.Fprintln(w, "nothing was decided about it yet")
		return err
	}
	fmt.Fprintln(w, "decided")
	h := &terminal.Grid{}
	for _, d := range c.History {
		h.Add(d.At.Format("2006-01-02 15:04"), wording.Verdict(d), d.Reason)
	}
	return h.Print(w, 2, terminal.Width(w))
}

func claimLines(g *terminal.Grid, c query.Claimed) {
	line := func(name, value string) {
		if value != "" {
			g.Add(name, value)
		}
	}
	k := c.Claim
	taxon := c.Name
	if k.TaxonPrinted != "" && k.TaxonPrinted != c.Name {
		taxon += " (printed " + k.TaxonPrinted + ")"
	}
	line("species", taxon)
	line("stage", string(k.Stage))
	where := fmt.Sprintf("%s, p. %d", c.Citation, k.Page)
	if k.Section != "" {
		where += ", " + k.Section
	}
	line("stands in", where)
	line("file", k.Source)
	line("words", "… "+c.Before+"“"+k.Quote+"”"+c.After+" …")
	if k.Secondhand {
		line("cited from", k.CitedSource())
		for _, w := range c.Works {
			line("source", w.Citation+", "+w.Standing())
			line("in its list", w.Printed)
		}
	}
	line("marks", strings.Join(table.Marks(*k), ", "))
	read := "rule " + k.Rule
	if k.Rule == store.HandRule {
		read = "added by hand"
	}
	line("read by", fmt.Sprintf("%s, score %.2f", read, k.Score))
	line("id", k.ID)
}
