package corpus

import (
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence"
)

func gold(t *testing.T) []Passage {
	t.Helper()
	g, err := Gold()
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestNames(t *testing.T) {
	names := Names()
	if len(names) < 12 {
		t.Errorf("%d papers, want at least 12", len(names))
	}
	for _, n := range names {
		if !regexp.MustCompile(`^[a-z]+-(19|20)\d\d\.pdf$`).MatchString(n) {
			t.Errorf("%s is not named author-year.pdf", n)
		}
		data, err := fs.ReadFile(Files(), n)
		if err != nil || !strings.HasPrefix(string(data), "%PDF-") {
			t.Errorf("%s does not read as a PDF: %v", n, err)
		}
	}
}

func TestGoldPassages(t *testing.T) {
	names, ids, empty, claims := Names(), map[string]bool{}, 0, 0
	sources := map[string]bool{}
	for _, p := range gold(t) {
		if ids[p.ID] {
			t.Errorf("%s twice", p.ID)
		}
		ids[p.ID], sources[p.Source] = true, true
		if !slices.Contains(names, p.Source) {
			t.Errorf("%s: no paper %q", p.ID, p.Source)
		}
		if p.Page < 1 || p.Page > 8 || p.Title == "" || p.Text == "" || !slices.Contains([]string{"en", "de", "fr"}, p.Lang) {
			t.Errorf("%s: page %d, title %q, language %q", p.ID, p.Page, p.Title, p.Lang)
		}
		if strings.ContainsAny(p.Text, "*~\u00ad") {
			t.Errorf("%s: markup left in the text", p.ID)
		}
		if len(p.Claims) == 0 {
			empty++
		}
		claims += len(p.Claims)
	}
	if empty < 25 || claims < 300 {
		t.Errorf("%d passages without claims and %d claims, want at least 25 and 300", empty, claims)
	}
	for _, n := range names {
		if !sources[n] {
			t.Errorf("%s has no labelled passage", n)
		}
	}
}

// Each label stands as a claim that evidence itself finds no fault with.
func TestGoldClaims(t *testing.T) {
	for _, p := range gold(t) {
		seen := map[string]bool{}
		for _, c := range p.Claims {
			at := strings.Index(p.Text, c.Quote)
			if at < 0 || c.Quote == "" {
				t.Errorf("%s: quote is not in the text: %q", p.ID, c.Quote)
				continue
			}
			start := len([]rune(p.Text[:at]))
			e := evidence.Claim{
				Page: c.Page, Start: start, End: start + len([]rune(c.Quote)), Quote: c.Quote, Taxon: c.Taxon, Stage: c.Stage,
				Factor: c.Factor, Bearing: c.Bearing, Low: c.Low, High: c.High, Unit: c.Unit, Category: c.Category, Printed: c.Quote,
			}
			for _, problem := range e.Lint() {
				t.Errorf("%s: %s %s: %s", p.ID, c.Factor, c.Quote, problem)
			}
			if c.Page < p.Page || c.Page > p.Page+1 {
				t.Errorf("%s: passage on page %d, its quote on page %d", p.ID, p.Page, c.Page)
			}
			e.Page, e.Start, e.End = 0, 0, 0
			if id := e.MakeID(p.ID); seen[id] {
				t.Errorf("%s: %s %s labelled twice: %q", p.ID, c.Factor, c.Bearing, c.Quote)
			} else {
				seen[id] = true
			}
		}
	}
}

// A number in a label is printed in its quote or follows from one that is:
// degrees Fahrenheit, mS, hours, weeks, months and years, and number words.
func TestGoldNumbersPrinted(t *testing.T) {
	digits := regexp.MustCompile(`\d`)
	words := regexp.MustCompile(`(?i)\b(one|two|three|four|five|six|seven|eight|ten|twelve|thirty|month|week|fourth|ninth|fifth|sixth|eleventh|eighth|second|hours|zwei|dreis?|drei|fünften|achten|deux|neuf|quatrième)`)
	for _, p := range gold(t) {
		for _, c := range p.Claims {
			if (c.Low != nil || c.High != nil) && !digits.MatchString(c.Quote) && !words.MatchString(c.Quote) {
				t.Errorf("%s: %s %v in a quote without a number: %q", p.ID, c.Factor, *deref(c.Low, c.High), c.Quote)
			}
		}
	}
}

func deref(a, b *float64) *float64 {
	if a != nil {
		return a
	}
	return b
}

func TestIsInvented(t *testing.T) {
	for _, p := range gold(t) {
		for _, c := range p.Claims {
			if !IsInvented(c.Taxon) {
				t.Errorf("%s is taken for an animal that lives", c.Taxon)
			}
		}
	}
	for taxon, want := range map[string]bool{"lirrobranchus": true, "Triops longicaudatus": false, "": false, "Lirro": false} {
		if IsInvented(taxon) != want {
			t.Errorf("%q: %t", taxon, !want)
		}
	}
}

func TestTaxaArePrinted(t *testing.T) {
	for _, p := range gold(t) {
		for _, c := range p.Claims {
			genus, species, ok := strings.Cut(c.Taxon, " ")
			if !ok || !strings.HasSuffix(genus, "us") && !strings.HasSuffix(genus, "is") || species == "" {
				t.Errorf("%s: taxon %q", p.ID, c.Taxon)
			}
		}
	}
}

// What stands in the truth is said by the papers on its sides, as the hand-made
// table has it.
func TestTruth(t *testing.T) {
	truth, err := Truth()
	if err != nil {
		t.Fatal(err)
	}
	said, err := Statements()
	if err != nil {
		t.Fatal(err)
	}
	papers := map[string][]Statement{}
	for _, s := range said {
		papers[s.Paper] = append(papers[s.Paper], s)
	}
	kinds, reasons := map[string]int{}, map[string]bool{}
	for _, c := range truth {
		kinds[c.Taxon]++
		if !slices.Contains([]string{"apart", "opposed", "need"}, c.Kind) {
			t.Errorf("%s %s: kind %q", c.Taxon, c.Factor, c.Kind)
		}
		for _, s := range slices.Concat(c.Sides, c.Elsewhere) {
			first := 0
			for _, p := range s.Papers {
				found, own := side(papers[p], c, s)
				if !found {
					t.Errorf("%s: %s says nothing for side %s", c.ID, p, s)
				}
				if own {
					first++
				}
			}
			// A paper that cites for one value may have found others in the range.
			if first < s.FirstHand || s.Category != "" && first != s.FirstHand {
				t.Errorf("%s: side %s has %d first-hand papers", c.ID, s, first)
			}
		}
		for _, r := range c.Reasons {
			reasons[r.Kind] = true
			for _, p := range r.Papers {
				if papers[p] == nil {
					t.Errorf("%s %s: reason %s names %q", c.Taxon, c.Factor, r.Kind, p)
				}
			}
		}
	}
	for _, want := range []string{"unit-slip", "stage", "echo", "population", "conditions"} {
		if !reasons[want] {
			t.Errorf("no conflict has the reason %s", want)
		}
	}
	if len(kinds) != 2 {
		t.Errorf("conflicts of %d species, want 2", len(kinds))
	}
}

// side reports whether one of a paper's statements lies on side s of conflict c, and
// whether one of those is the paper's own finding.
func side(said []Statement, c Conflict, s Side) (found, own bool) {
	for _, k := range said {
		if k.Taxon != c.Taxon || k.Factor != c.Factor || k.Bearing != s.Bearing {
			continue
		}
		if s.Category != "" {
			if k.Category != s.Category {
				continue
			}
		} else if k.Low == nil && k.High == nil || s.Low != nil && *deref(k.Low, k.High) < *s.Low || s.High != nil && *deref(k.High, k.Low) > *s.High {
			continue
		}
		found, own = true, own || k.Cites == ""
	}
	return found, own
}

// Every page of every paper with text says that it is invented; the scanned
// one says so in its picture.
func TestPagesSayInvented(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed (package poppler-utils), so the pages were not read")
	}
	for _, name := range Names() {
		data, err := fs.ReadFile(Files(), name)
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(file, data, 0o600); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command("pdftotext", "-enc", "UTF-8", file, "-").Output()
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			t.Fatalf("%s: %v: %s", name, err, exit.Stderr)
		}
		pages := strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
		if n := len(pages); n < 2 || n > 8 {
			t.Errorf("%s has %d pages, want 2 to 8", name, n)
		}
		if name == "haldersby-1962.pdf" {
			if text := strings.TrimSpace(strings.ReplaceAll(string(out), "\f", "")); text != "" {
				t.Errorf("%s: the scan has text: %.40q", name, text)
			}
			continue
		}
		for i, page := range pages {
			if !strings.Contains(page, "nvented for demonstration") {
				t.Errorf("%s page %d does not say that it is invented", name, i+1)
			}
		}
	}
}
