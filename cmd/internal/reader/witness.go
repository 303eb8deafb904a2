package reader

import (
	"context"
	"regexp"
	"slices"

	"hatchlore/evidence"
)

// numbers finds the figures of a printed value. Decimal signs stay inside.
var numbers = regexp.MustCompile(`\d+(?:[.,]\d+)*`)

// witness marks the claims whose figures the second PDF reader prints on the
// same page. It only ever adds trust: a second reader that fails leaves the
// claims as they are.
func (r *Reader) witness(ctx context.Context, path string, claims []evidence.Claim) {
	var pages []int
	for _, c := range claims {
		if numbers.MatchString(c.Printed) && !c.OCR && !slices.Contains(pages, c.Page) {
			pages = append(pages, c.Page)
		}
	}
	if len(pages) == 0 {
		return
	}
	second, err := r.pdf.Witness(ctx, path, pages)
	if err != nil {
		return
	}
	seen := map[int]map[string]bool{}
	for page, text := range second {
		seen[page] = map[string]bool{}
		for _, n := range numbers.FindAllString(text, -1) {
			seen[page][n] = true
		}
	}
	for i, c := range claims {
		claims[i].TwiceRead = !c.OCR && allSeen(numbers.FindAllString(c.Printed, -1), seen[c.Page])
	}
}

func allSeen(figures []string, seen map[string]bool) bool {
	for _, f := range figures {
		if !seen[f] {
			return false
		}
	}
	return len(figures) > 0
}
