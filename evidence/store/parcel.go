package store

import (
	"cmp"
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/store/disk"
	"hatchlore/ingest"
)

// Parcel is what one keeper can hand another: the papers by their content
// hash, the claims with what stands around their quotes, every decision, the
// names read as others, what was said of experiments published twice, and the
// lots and trials. It has no papers' text but that of sources that are no
// files.
type Parcel struct {
	Papers      []ParcelPaper
	Claims      []ParcelClaim
	Decisions   []ParcelDecision
	Aliases     []Alias
	Experiments []ParcelExperiment
	Lots        []ParcelLot
	Trials      []ParcelTrial
}

// ParcelPaper is a paper without its text. Source is the file's name without
// its folder, which is nobody's business.
type ParcelPaper struct {
	Paper
	Mended bool // the keeper put its record right
}

// ParcelClaim is a claim in force with what stands before and after its quote.
type ParcelClaim struct {
	evidence.Claim
	Hash           string // of its paper
	Before, Behind string
}

// ParcelDecision is a decision with what tells its thread: all decisions on
// one claim, over every reading of its paper.
type ParcelDecision struct {
	Decision
	Thread string
	MadeOn string // id of the claim when the decision was made
}

// contextLength is how many characters travel with a quote on each side: they
// tell it from the same words elsewhere on the page.
const contextLength = 32

// FormatTrial is the format of the result of a trial, told as a page.
const FormatTrial = "trial"

// typed reports whether a paper is no file: its text was typed or told here,
// and travels with it.
func (p Paper) typed() bool { return p.Format == FormatCited || p.Format == FormatTrial }

// Parcel returns the library's contents in a fixed order, whatever the order in
// which they came in.
func (s *Store) Parcel(ctx context.Context) (Parcel, error) {
	tx, err := s.file.Read().BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return Parcel{}, explain(err)
	}
	defer tx.Rollback()
	var out Parcel
	if out.Papers, err = parcelPapers(ctx, tx); err != nil {
		return Parcel{}, err
	}
	keys := map[string]string{}
	for _, p := range out.Papers {
		keys[p.Hash] = p.Key
		claims, err := parcelClaims(ctx, tx, p)
		if err != nil {
			return Parcel{}, err
		}
		out.Claims = append(out.Claims, claims...)
	}
	if out.Decisions, err = parcelDecisions(ctx, tx, keys); err != nil {
		return Parcel{}, err
	}
	if out.Aliases, err = selectAliases(ctx, tx); err != nil {
		return Parcel{}, err
	}
	if out.Experiments, err = parcelExperiments(ctx, tx); err != nil {
		return Parcel{}, err
	}
	if out.Lots, err = parcelLots(ctx, tx); err != nil {
		return Parcel{}, err
	}
	out.Trials, err = parcelTrials(ctx, tx)
	return out, err
}

func parcelPapers(ctx context.Context, q disk.Querier) ([]ParcelPaper, error) {
	var out []ParcelPaper
	err := eachRow(ctx, q, `SELECT key, edited > 0 FROM papers ORDER BY key`, nil, func(scan func(...any) error) error {
		var p ParcelPaper
		err := scan(&p.Key, &p.Mended)
		out = append(out, p)
		return err
	})
	if err != nil {
		return nil, err
	}
	for i, p := range out {
		id, head, err := paperHead(ctx, q, p.Key)
		if err != nil {
			return nil, err
		}
		if out[i].Paper = head; !head.typed() {
			out[i].Source = filepath.Base(head.Source)
			continue
		}
		for page, err := range pagesOf(ctx, q, id) {
			if err != nil {
				return nil, fmt.Errorf("reading %s: %w", p.Key, err)
			}
			out[i].Pages = append(out[i].Pages, ingest.Page{Number: page.Number, How: page.How, Text: page.Text})
		}
	}
	return out, nil
}

func parcelClaims(ctx context.Context, q disk.Querier, p ParcelPaper) ([]ParcelClaim, error) {
	claims, err := selectClaims(ctx, q, Filter{Paper: p.Key, Rejected: true})
	if err != nil || len(claims) == 0 {
		return nil, err
	}
	id, _, err := paperHead(ctx, q, p.Key)
	if err != nil {
		return nil, err
	}
	pages := map[int][]rune{}
	for page, err := range pagesOf(ctx, q, id) {
		if err != nil {
			return nil, fmt.Errorf("reading %s: %w", p.Key, err)
		}
		pages[page.Number] = []rune(page.Text)
	}
	out := make([]ParcelClaim, 0, len(claims))
	for _, c := range claims {
		k := ParcelClaim{Claim: c, Hash: p.Hash}
		k.Source = p.Source
		if text, ok := pages[c.Page]; ok {
			k.Before, k.Behind = beside(text, c, contextLength)
		} else if k.Before, k.Behind, err = storedContext(ctx, q, id, c.ID); err != nil {
			return nil, err
		}
		out = append(out, k)
	}
	return out, nil
}

// beside returns up to most characters of text on each side of c's quote; none
// where the quote does not stand there, as after a new reading.
func beside(text []rune, c evidence.Claim, most int) (before, behind string) {
	if c.Start < 0 || c.Start > c.End || c.End > len(text) || string(text[c.Start:c.End]) != c.Quote {
		return "", ""
	}
	return string(text[max(0, c.Start-most):c.Start]), string(text[c.End:min(len(text), c.End+most)])
}

// parcelDecisions returns all decisions, thread by thread. What a claim says of
// its file and key is taken from the paper now.
func parcelDecisions(ctx context.Context, q disk.Querier, keys map[string]string) ([]ParcelDecision, error) {
	all, err := queryDecisions(ctx, q, ``)
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(all, func(a, b threaded) int { return cmp.Compare(a.ID, b.ID) })
	threads := map[int64]string{}
	var out []ParcelDecision
	for _, d := range all {
		if threads[d.thread] == "" {
			threads[d.thread] = fmt.Sprintf("%s@%d", d.madeOn, d.At.UnixMilli())
		}
		p := ParcelDecision{Decision: d.Decision, Thread: threads[d.thread], MadeOn: d.madeOn}
		p.Reading.Source, p.Reading.Paper = "", keys[d.Hash]
		if p.Amended != nil {
			p.Amended.Source, p.Amended.Paper = "", keys[d.Hash]
		}
		out = append(out, p)
	}
	slices.SortFunc(out, func(a, b ParcelDecision) int {
		latest := func(d ParcelDecision) int {
			if d.Latest {
				return 1
			}
			return 0
		}
		return cmp.Or(strings.Compare(a.Hash, b.Hash), strings.Compare(a.Thread, b.Thread), latest(a)-latest(b), a.At.Compare(b.At), strings.Compare(a.print(), b.print()))
	})
	return out, nil
}

// print tells decisions apart: two with the same print are one and the same.
func (d ParcelDecision) print() string {
	amended, err := json.Marshal(d.Amended)
	if err != nil {
		amended = nil // a claim with a number that JSON cannot hold is never stored
	}
	return fmt.Sprintf("%s %d %s %q %t %s", d.MadeOn, d.At.UnixMilli(), d.Verdict, d.Reason, d.ByHand, amended)
}
