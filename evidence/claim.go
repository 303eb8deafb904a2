// Package evidence holds the vocabulary of hatchlore: what a claim about
// hatching is, which factors it can speak of, how it bears on hatching, and
// what a keeper has decided about it.
//
// It refuses to read or write anything, and to guess: a claim that lacks its
// page, quote or unit is reported by [Claim.Lint], never mended.
package evidence

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strconv"
	"strings"
)

// Bearing says what a claim's value did to hatching.
type Bearing string

const (
	Favours     Bearing = "favours"     // hatching happened there, optimum, promoted, required
	Prevents    Bearing = "prevents"    // none hatched, inhibited, killed
	Indifferent Bearing = "indifferent" // no effect, not needed
	Reported    Bearing = "reported"    // a tested level or a field value with no outcome
)

// Stage says which event a claim counts. Emergence (the embryo still inside
// its membrane) and hatching (the free nauplius) are different counts.
type Stage string

const (
	StageUnsaid    Stage = ""
	StageEmergence Stage = "emergence"
	StageHatching  Stage = "hatching"
)

// Verdict is a keeper's decision over the machine's reading.
type Verdict string

const (
	Undecided Verdict = ""
	Accepted  Verdict = "accepted"
	Amended   Verdict = "amended"
	Rejected  Verdict = "rejected"
)

// Claim is one statement of one paper about one condition for hatching.
//
// Start and End count Unicode code points in the text of the page, so that a
// reader of the JSON can cut the quote out in any language; Quote is exactly
// that stretch. Low and High are in the canonical unit of the factor and nil
// when open ("at least 30 days" has a Low only).
type Claim struct {
	ID           string   `json:"id"`
	Source       string   `json:"source"`
	Paper        string   `json:"paper"`
	Page         int      `json:"page"`
	Start        int      `json:"start"`
	End          int      `json:"end"`
	Quote        string   `json:"quote"`
	Section      string   `json:"section"`
	Taxon        string   `json:"taxon"`         // printed spelling, genus written out; "" for a mixed group
	TaxonPrinted string   `json:"taxon_printed"` // as the page has it
	Stage        Stage    `json:"stage"`
	Factor       Factor   `json:"factor"`
	Bearing      Bearing  `json:"bearing"`
	Low          *float64 `json:"low"`
	High         *float64 `json:"high"`
	Unit         string   `json:"unit"`
	Category     string   `json:"category"`
	Printed      string   `json:"printed"`    // number and unit as printed
	Secondhand   bool     `json:"secondhand"` // given as somebody else's finding
	Cited        string   `json:"cited"`      // the citation that makes it so, as printed; before a number in brackets, whom it means
	Entries      Entries  `json:"entries"`    // what Cited means in the paper's own list of references; none where that is not plain
	Implied      bool     `json:"implied"`    // from a word that hides a number
	Inferred     bool     `json:"inferred"`   // rests on a repaired character, or on one that OCR probably misread
	TwiceRead    bool     `json:"twice_read"` // both PDF readers printed its numbers
	OCR          bool     `json:"ocr"`        // read from a picture
	Rule         string   `json:"rule"`
	Score        float64  `json:"score"` // 0 to 1
	Decision     Verdict  `json:"decision"`
}

// sure is the score below which about half of the claims read from passages that
// the rules had not seen were wrong (10 of 19; DEVELOPERS.md, "How well it reads").
const sure = 0.7

// Unsure reports whether c is a reading that is as likely wrong as right, and
// that no keeper has looked at.
func (c Claim) Unsure() bool { return c.Score < sure && c.Decision == "" }

// MakeID returns the id of a claim in the paper with the given content hash.
// The same statement read again from the same file has the same id, whatever
// the file is called and whichever rule found it.
func (c Claim) MakeID(paperHash string) string {
	h := sha256.New()
	fmt.Fprintf(h, "%s|%d|%d|%d|%s|%s|%s|%s|%s|%s", paperHash, c.Page, c.Start, c.End,
		c.Taxon, c.Factor, c.Bearing, bound(c.Low), bound(c.High), c.Category)
	return hex.EncodeToString(h.Sum(nil))[:12]
}

func bound(v *float64) string {
	if v == nil {
		return ""
	}
	return strconv.FormatFloat(*v, 'g', 6, 64)
}

// CitedSource returns the citation of a second-hand claim without the brackets
// around it: "Hallow 1987" for "(Hallow 1987)", but "Hallow (1987)" as it is.
func (c Claim) CitedSource() string {
	s := strings.TrimSpace(c.Cited)
	for _, pair := range []string{"()", "[]"} {
		if strings.HasPrefix(s, pair[:1]) && strings.HasSuffix(s, pair[1:]) {
			return strings.TrimSpace(s[1 : len(s)-1])
		}
	}
	return s
}
