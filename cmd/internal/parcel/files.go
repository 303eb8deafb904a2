package parcel

import (
	"strings"
	"time"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/ingest"
	"hatchlore/query/wording"
)

// The files of an exported folder. The CSV files, references.bib and
// references.json are for other programs; import reads the rest.
const (
	manifestFile    = "hatchlore.json"
	papersFile      = "papers.json"
	claimsFile      = "claims.json"
	decisionsFile   = "decisions.json"
	aliasesFile     = "names.json"
	experimentsFile = "experiments.json"
	lotsFile        = "lots.json"
	trialsFile      = "trials.json"
	quotesFile      = "quotes.json"
	claimsSheet     = "claims.csv"
	decisionsSheet  = "decisions.csv"
	aliasesSheet    = "names.csv"
	lotsSheet       = "lots.csv"
	countsSheet     = "counts.csv"
	cslFile         = "references.json"
	bibFile         = "references.bib"
)

// parcelForm numbers the form of the files; a program reads its own and older
// ones. Form 1 had no lots, trials and experiments, form 2 did not tell whose a
// trial is.
const parcelForm = 3

type manifest struct {
	Form int `json:"form"`
}

// paperFile is a paper as papers.json has it.
type paperFile struct {
	Paper   string     `json:"paper"`
	Hash    string     `json:"hash"` // SHA-256 of the file, hex
	File    string     `json:"file"` // its name without a folder; of a source that is no file its citation
	Format  string     `json:"format"`
	Size    int64      `json:"size"`
	Lang    string     `json:"lang"`
	Title   string     `json:"title"`
	Authors []string   `json:"authors"`
	Year    int        `json:"year"`
	Journal string     `json:"journal"`
	Volume  string     `json:"volume"`
	Pages   string     `json:"pages"` // in the journal
	DOI     string     `json:"doi"`
	Mended  bool       `json:"mended"`
	Text    []pageFile `json:"text"` // of a source that is no file: what was typed from it
}

type pageFile struct {
	Page int    `json:"page"`
	Text string `json:"text"`
}

func paperFileOf(p store.ParcelPaper) paperFile {
	out := paperFile{
		Paper: p.Key, Hash: p.Hash, File: p.Source, Format: p.Format, Size: p.Size, Lang: p.Lang, Title: p.Title, Authors: p.Authors, Year: p.Year,
		Journal: p.Journal, Volume: p.Volume, Pages: p.Extent, DOI: p.DOI, Mended: p.Mended, Text: []pageFile{},
	}
	if out.Authors == nil {
		out.Authors = []string{}
	}
	for _, page := range p.Paper.Pages {
		out.Text = append(out.Text, pageFile{page.Number, page.Text})
	}
	return out
}

func (f paperFile) parcel() store.ParcelPaper {
	out := store.ParcelPaper{Mended: f.Mended, Paper: store.Paper{
		Key: f.Paper, Hash: f.Hash, Source: f.File, Format: f.Format, Size: f.Size, Lang: f.Lang, Title: f.Title, Authors: f.Authors, Year: f.Year,
		Journal: f.Journal, Volume: f.Volume, Extent: f.Pages, DOI: f.DOI,
	}}
	for _, page := range f.Text {
		out.Paper.Pages = append(out.Paper.Pages, ingest.Page{Number: page.Page, How: ingest.ByText, Text: page.Text})
	}
	return out
}

// decisionFile is a decision as decisions.json has it. Those of one thread are
// about one claim, in order, the one in force last.
type decisionFile struct {
	Thread  string           `json:"thread"`
	Hash    string           `json:"hash"`
	Claim   string           `json:"claim"`   // it stands on now; "" when no page has its words
	MadeOn  string           `json:"made_on"` // id of the claim at the time
	ByHand  bool             `json:"by_hand"`
	Verdict evidence.Verdict `json:"verdict"` // "" takes back what was decided before
	Reason  string           `json:"reason"`
	At      time.Time        `json:"at"`
	Latest  bool             `json:"latest"`
	Reading evidence.Claim   `json:"reading"`
	Amended *evidence.Claim  `json:"amended"`
}

func decisionFileOf(d store.ParcelDecision) decisionFile {
	return decisionFile{d.Thread, d.Hash, d.Claim, d.MadeOn, d.ByHand, d.Verdict, d.Reason, d.At.UTC(), d.Latest, d.Reading, d.Amended}
}

func (f decisionFile) parcel() store.ParcelDecision {
	return store.ParcelDecision{Thread: f.Thread, MadeOn: f.MadeOn, Decision: store.Decision{
		Claim: f.Claim, Hash: f.Hash, ByHand: f.ByHand, Reading: f.Reading, Verdict: f.Verdict, Amended: f.Amended, Reason: f.Reason, At: f.At, Latest: f.Latest,
	}}
}

// decisionLine is a decision as a row of decisions.csv.
type decisionLine struct {
	Claim   string           `json:"claim"`
	Paper   string           `json:"paper"`
	Page    int              `json:"page"`
	Quote   string           `json:"quote"`
	Verdict evidence.Verdict `json:"verdict"`
	Reason  string           `json:"reason"`
	At      string           `json:"at"`
	InForce bool             `json:"in_force"`
	Read    string           `json:"read"`    // what was read
	Amended string           `json:"amended"` // what the keeper has in its place
}

func decisionLineOf(d store.ParcelDecision) decisionLine {
	out := decisionLine{d.MadeOn, d.Reading.Paper, d.Reading.Page, d.Reading.Quote, d.Verdict, d.Reason, d.At.UTC().Format(time.RFC3339), d.Latest, saying(d.Reading), ""}
	if d.Amended != nil {
		out.Amended = saying(*d.Amended)
	}
	return out
}

// saying tells a claim in a few words.
func saying(c evidence.Claim) string {
	return c.Taxon + ": " + c.Factor.Label() + " " + wording.ClaimValue(c) + ", " + string(c.Bearing)
}

// aliasFile is a name read as another, as names.json has it.
type aliasFile struct {
	Old    string    `json:"old"`
	New    string    `json:"new"`
	Reason string    `json:"reason"`
	At     time.Time `json:"at"`
}

// annotationPage is the part of the W3C Web Annotation Data Model (2017) that
// quotes.json uses: each claim a description of a quote on a page of a file.
type annotationPage struct {
	Context string       `json:"@context"`
	Type    string       `json:"type"`
	Items   []annotation `json:"items"`
}

type annotation struct {
	ID         string           `json:"id"`
	Type       string           `json:"type"`
	Motivation string           `json:"motivation"`
	Body       annotationBody   `json:"body"`
	Target     annotationTarget `json:"target"`
}

// annotationID is how quotes.json names a claim.
func annotationID(id string) string { return "urn:hatchlore:claim:" + id }

func claimOfAnnotation(id string) string { return strings.TrimPrefix(id, "urn:hatchlore:claim:") }

type annotationBody struct {
	Type   string `json:"type"`
	Value  string `json:"value"`
	Format string `json:"format"`
}

type annotationTarget struct {
	Source   string           `json:"source"` // urn:sha256 of the file
	Selector fragmentSelector `json:"selector"`
}

// fragmentSelector selects a page (RFC 8118, and RFC 3778 before it), and
// within it the quote.
type fragmentSelector struct {
	Type       string        `json:"type"`
	ConformsTo string        `json:"conformsTo"`
	Value      string        `json:"value"`
	RefinedBy  quoteSelector `json:"refinedBy"`
}

type quoteSelector struct {
	Type   string `json:"type"`
	Exact  string `json:"exact"`
	Prefix string `json:"prefix"`
	Suffix string `json:"suffix"`
}

// lotFile is a lot as lots.json has it: what went in and out is told entry by
// entry, and the sums follow.
type lotFile struct {
	store.Lot
	Added   time.Time        `json:"added"`
	Entries []store.LotEntry `json:"entries"`
}

func lotFileOf(l store.ParcelLot) lotFile {
	return lotFile{l.Lot, l.Added, append([]store.LotEntry{}, l.Entries...)}
}

func (f lotFile) parcel() store.ParcelLot {
	return store.ParcelLot{Lot: f.Lot, Added: f.Added, Entries: f.Entries}
}

// trialFile is a trial as trials.json has it.
type trialFile struct {
	Plan   *trial.Plan        `json:"plan"`
	Made   time.Time          `json:"made"`
	Closed *time.Time         `json:"closed"` // null while counting goes on
	Keeper string             `json:"keeper"` // whose it is; "" in a copy of one's own
	Looks  []store.ParcelLook `json:"looks"`
}

func trialFileOf(t store.ParcelTrial) trialFile {
	out := trialFile{t.Plan, t.Made, nil, t.Keeper, append([]store.ParcelLook{}, t.Looks...)}
	if !t.Closed.IsZero() {
		out.Closed = &t.Closed
	}
	return out
}

func (f trialFile) parcel() store.ParcelTrial {
	out := store.ParcelTrial{Plan: f.Plan, Made: f.Made, Keeper: f.Keeper, Looks: f.Looks}
	if f.Closed != nil {
		out.Closed = *f.Closed
	}
	return out
}

// countLine is a look at a dish as a row of counts.csv.
type countLine struct {
	Trial   string `json:"trial"`
	Dish    string `json:"dish"`
	Date    string `json:"date"`
	Eggs    *int   `json:"eggs"`
	Emerged *int   `json:"emerged"`
	Hatched *int   `json:"hatched"`
	Dead    *int   `json:"dead"`
	Note    string `json:"note"`
	InForce bool   `json:"in_force"`
}

func countLines(trials []store.ParcelTrial) []countLine {
	out := []countLine{}
	for _, t := range trials {
		for _, l := range t.Looks {
			out = append(out, countLine{t.Plan.Trial, l.Dish, l.Day, l.Eggs, l.Emerged, l.Hatched, l.Dead, l.Note, l.InForce})
		}
	}
	return out
}
