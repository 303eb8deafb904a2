package papers

import (
	"context"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/reader"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule"
	"hatchlore/evidence/trial"
	"hatchlore/ingest"
	"hatchlore/query/wording"
)

// Read is the command that prints what papers say and stores nothing.
func Read() *cobra.Command {
	view := usage.Choice{Value: "claims", Allowed: []string{"claims", "quantities", "text"}}
	var why bool
	cmd := &cobra.Command{
		Use:   "read PATH...",
		Short: "what these papers say, stored nowhere",
		Long: `Reads papers, or folders of papers, and prints what was found in them: claims about hatching,
every number with a unit, or the text page by page. Nothing is stored.`,
		Example: `  hatchlore read paper.pdf
  hatchlore read paper.pdf --why
  hatchlore read papers/ --view quantities --format csv`,
		Args: usage.Some("a paper or a folder of papers"),
	}
	cmd.Flags().Var(&view, "view", "what to print: claims, quantities or text")
	cmd.Flags().BoolVar(&why, "why", false, "with each claim, the rule and the words it rests on")
	format := usage.FormatFlag(cmd, listing.Table, listing.JSONL, listing.CSV)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if why && view.Value != "claims" {
			return usage.Errorf("--why goes with the view claims")
		}
		show := map[string]func(io.Writer, string, *reader.Reader, *reader.Reading) error{
			"claims": showClaims, "quantities": showQuantities, "text": showText,
		}[view.Value]
		if why {
			show = showWhy
		}
		return read(cmd.Context(), args, cmd.OutOrStdout(), cmd.ErrOrStderr(), *format, show)
	}
	return cmd
}

// read reads every paper under paths and shows each in turn. Papers that
// cannot be read are told on stderr; the rest is still shown.
func read(ctx context.Context, paths []string, stdout, stderr io.Writer, format string,
	show func(io.Writer, string, *reader.Reader, *reader.Reading) error) error {
	files := reader.Find(paths)
	switch {
	case !anyPaper(files) && anyReference(files):
		return fmt.Errorf("there are no papers in %s, only records of papers; 'hatchlore ingest' takes these", strings.Join(paths, ", "))
	case !anyPaper(files):
		return noPaper(files, paths)
	}
	rd, err := reader.New(ctx, reader.Options{})
	if err != nil {
		return err
	}
	defer rd.Close()
	done := 0
	for r := range rd.ReadAll(ctx, files) {
		switch {
		case r.Err != nil:
			fmt.Fprintln(stderr, "hatchlore: "+terminal.Sentence(r.Err.Error()))
		case r.Reading != nil:
			done++
			if err := show(stdout, format, rd, r.Reading); err != nil {
				return err
			}
		}
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if done == 0 {
		return fmt.Errorf("none of the papers could be read; each is told above with its reason")
	}
	return nil
}

func showClaims(w io.Writer, format string, _ *reader.Reader, r *reader.Reading) error {
	return listing.Emit(w, format, r.Claims, func(w io.Writer, claims []evidence.Claim) error {
		terminal.Say(w, "%s: %s, %s", r.Document.Source, trial.Plural(len(r.Document.Pages), "page"), trial.Plural(len(claims), "claim"))
		g := &terminal.Grid{}
		for _, c := range claims {
			g.Add(fmt.Sprintf("p. %d", c.Page), c.Taxon, c.Factor.Label(), wording.ClaimValue(c), string(c.Bearing), "“"+c.Quote+"”")
		}
		return g.Print(w, 2, terminal.Width(w))
	})
}

// explained is a claim with the reasons for it, as JSON.
type explained struct {
	evidence.Claim
	Why whyJSON `json:"why"`
}

type whyJSON struct {
	Sentence string   `json:"sentence"`
	Subject  []string `json:"subject"` // names taken, as printed
	Cues     []string `json:"cues"`    // class and word
}

func showWhy(w io.Writer, format string, by *reader.Reader, r *reader.Reading) error {
	var out []explained
	rules, err := by.Rules()
	if err != nil {
		return err
	}
	for _, e := range rules.MatchExplained(r.Document) {
		out = append(out, explained{e.Claim, whyJSON{e.Sentence, e.Subject, cueWords(e.Cues)}})
	}
	return listing.Emit(w, format, out, func(w io.Writer, out []explained) error {
		if len(out) == 0 {
			return terminal.Say(w, "%s: %s, 0 claims", r.Document.Source, trial.Plural(len(r.Document.Pages), "page"))
		}
		width := terminal.Width(w)
		for _, e := range out {
			terminal.Say(w, "%s, p. %d: %s", e.Source, e.Page, strings.Join([]string{e.Taxon, e.Factor.Label(), wording.ClaimValue(e.Claim), string(e.Bearing)}, ", "))
			g := &terminal.Grid{}
			g.Add("rule", fmt.Sprintf("%s (score %.2f)", e.Rule, e.Score))
			g.Add("sentence", e.Why.Sentence)
			g.Add("names", strings.Join(e.Why.Subject, ", "))
			g.Add("words", strings.Join(e.Why.Cues, ", "))
			if err := g.Print(w, 2, width); err != nil {
				return err
			}
		}
		return nil
	})
}

func cueWords(cues []rule.Cue) []string {
	out := make([]string, 0, len(cues))
	for _, c := range cues {
		out = append(out, c.Class+" "+c.Text)
	}
	return out
}

// quantityJSON is one number with its unit, as printed.
type quantityJSON struct {
	Source string   `json:"source"`
	Page   int      `json:"page"`
	Start  int      `json:"start"` // code points of the page's text
	End    int      `json:"end"`
	Text   string   `json:"text"`
	Low    *float64 `json:"low"` // in the unit as printed
	High   *float64 `json:"high"`
	Unit   string   `json:"unit"`
	Taken  bool     `json:"taken"` // a claim rests on it
}

func showQuantities(w io.Writer, format string, _ *reader.Reader, r *reader.Reading) error {
	var out []quantityJSON
	for _, p := range r.Document.Pages {
		out = append(out, quantitiesOf(r, p)...)
	}
	return listing.Emit(w, format, out, func(w io.Writer, out []quantityJSON) error {
		terminal.Say(w, "%s: %s", r.Document.Source, trial.Plural(len(out), "number")+" with a unit")
		g := &terminal.Grid{}
		for _, q := range out {
			taken := ""
			if q.Taken {
				taken = "in a claim"
			}
			g.Add(fmt.Sprintf("p. %d", q.Page), q.Text, quantity.FormatRange(q.Low, q.High, quantity.Unit(q.Unit)), taken)
		}
		return g.Print(w, 2, terminal.Width(w))
	})
}

// quantitiesOf lists the quantities of one page. Values that belong one each
// to several things ("63 and 48 %, respectively") stand one by one; other lists
// are one line from their least to their greatest value. Points on a clock
// ("day 9") and words that hide a number are no quantities here.
func quantitiesOf(r *reader.Reading, p ingest.Page) []quantityJSON {
	var out []quantityJSON
	at := runeOffsets(p.Text)
	for _, q := range quantity.Find(p.Text) {
		if q.Implied || q.Ordinal {
			continue
		}
		j := quantityJSON{
			Source: r.Document.Source, Page: p.Number, Start: at(q.Start), End: at(q.End), Text: q.Text, Unit: string(q.Unit),
		}
		j.Taken = taken(r.Claims, j)
		items := q.Items
		if !q.Each {
			items = []quantity.Item{whole(q.Items)}
		}
		for _, it := range items {
			j.Low, j.High = it.Low, it.High
			out = append(out, j)
		}
	}
	return out
}

// whole spans the items of a list; an end that is open in any stays open.
func whole(items []quantity.Item) quantity.Item {
	span := items[0]
	for _, it := range items[1:] {
		if span.Low == nil || it.Low == nil {
			span.Low = nil
		} else if *it.Low < *span.Low {
			span.Low = it.Low
		}
		if span.High == nil || it.High == nil {
			span.High = nil
		} else if *it.High > *span.High {
			span.High = it.High
		}
	}
	return span
}

func taken(claims []evidence.Claim, q quantityJSON) bool {
	for _, c := range claims {
		if c.Page == q.Page && c.Start < q.End && q.Start < c.End && (c.Low != nil || c.High != nil) {
			return true
		}
	}
	return false
}

// runeOffsets returns a function from byte offsets of text, asked in rising
// order, to code points.
func runeOffsets(text string) func(int) int {
	at, runes := 0, 0
	return func(b int) int {
		if b < at {
			at, runes = 0, 0
		}
		runes += utf8.RuneCountInString(text[at:b])
		at = b
		return runes
	}
}

// pageJSON is the text of one page.
type pageJSON struct {
	Source string `json:"source"`
	Page   int    `json:"page"`
	How    string `json:"how"`
	Text   string `json:"text"`
	Why    string `json:"why,omitempty"` // it could not be read, or is doubtful
}

func showText(w io.Writer, format string, _ *reader.Reader, r *reader.Reading) error {
	var out []pageJSON
	for _, p := range r.Document.Pages {
		out = append(out, pageJSON{r.Document.Source, p.Number, string(p.How), p.Text, p.Why})
	}
	return listing.Emit(w, format, out, func(w io.Writer, out []pageJSON) error {
		for _, p := range out {
			how := p.How
			if p.Why != "" {
				how += ": " + p.Why
			}
			if _, err := fmt.Fprintf(w, "%s, page %d (%s)\n\n%s\n\n", terminal.Clean(p.Source), p.Page, terminal.Clean(how), terminal.Printable(p.Text)); err != nil {
				return err
			}
		}
		return nil
	})
}
