// Package address says where each view of the local page stands.
//
// It refuses to put a name into an address as it is: whatever a paper or a
// keeper called it, it stays one part of the path.
package address

import (
	"fmt"
	"net/url"
	"strings"
)

// Places that need no name.
const (
	Home   = "/"
	Papers = "/papers"
	Add    = "/add"
	Search = "/search"
	Trials = "/trials"
	Lots   = "/lots"
	Names  = "/names"
	Plan   = "/plan" // not below Trials, where a trial may have any name
)

// Species is where a taxon is shown.
func Species(taxon string) string { return "/species/" + url.PathEscape(taxon) }

// Disagreement is where a disagreement on a taxon is shown.
func Disagreement(taxon, id string) string {
	return Species(taxon) + "/disagreements/" + url.PathEscape(id)
}

// Claim is where a claim is shown beside its page.
func Claim(id string) string { return "/claims/" + url.PathEscape(id) }

// Paper is where a paper is shown, by its citation key.
func Paper(key string) string { return Papers + "/" + url.PathEscape(key) }

// Page is where a page of a paper is shown, counted from 1.
func Page(key string, page int) string { return fmt.Sprintf("%s/pages/%d", Paper(key), page) }

// Trial is where a trial is shown, or a part of it.
func Trial(id string, part ...string) string {
	return strings.Join(append([]string{Trials, url.PathEscape(id)}, part...), "/")
}

// Lot is where a lot of eggs is shown.
func Lot(name string) string { return Lots + "/" + url.PathEscape(name) }

// PlanFor is where a trial is planned that could settle a disagreement.
func PlanFor(taxon, disagreement string) string {
	return Plan + "?" + url.Values{"taxon": {taxon}, "disagreement": {disagreement}}.Encode()
}
