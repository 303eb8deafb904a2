package number

import (
	"regexp"

	"hatchlore/ingest"
)

// What programs that read pictures make of numbers and units, as seen in scans
// of the trade's papers: ° becomes o, 0 or a quotation mark, µ a p, digits
// letters, and any dash any other. The number is as likely right as wrong; a
// person must look at the picture.
var (
	misreadDegree = regexp.MustCompile(`[0-9][0-9.,]* ?[oO0"'*?^®©“”‘’„]{1,2} ?[CF](?:[^\pL\pN]|$)`)
	misreadMicro  = regexp.MustCompile(`[0-9][0-9.,]* ?(?:[puyj}|¢]\.? ?[Ss] ?/? ?cm|[pjy]g ?/|[pjy]m(?:[^\pL]|$))`)
	misreadDash   = regexp.MustCompile(`[—~] ?[0-9][0-9.,]* ?(?:[°º%‰µu]|[CF][^\pL]|oC)|[0-9] ?[—~] ?[0-9][0-9.,]*`)
	misreadDigit  = regexp.MustCompile(`(?:^|[^\pL\pN.,/])((?:[0-9lIO|]+[-–—.,])?(?:[0-9.,]*[lIO|][0-9.,lIO|]*|[lIO|][0-9.,lIO|]+)(?:[-–—] ?[0-9lIO|.,]+)?) ?` +
		`(?:[°º%‰]|oC|[µupm]S|mg|g/|pp[mt]|(?:days?|d|hours?|h|hrs?|weeks?|months?|min|minutes?|Tagen?|Wochen?|Stunden?|jours?|semaines?|heures?)(?:[^\pL]|$))`)
)

// Suspects marks what was probably misread on a page that was read from a
// picture. A number with a letter among its digits is of no use at all.
func Suspects(text string) []ingest.Mark {
	var out []ingest.Mark
	for _, m := range misreadDigit.FindAllStringSubmatchIndex(text, -1) {
		out = append(out, ingest.Mark{Start: m[2], End: m[1], Kind: ingest.Suspect, Raw: text[m[2]:m[1]]}, ingest.Mark{Start: m[2], End: m[1], Kind: ingest.Untrusted, Raw: text[m[2]:m[1]]})
	}
	for _, pattern := range []*regexp.Regexp{misreadDegree, misreadMicro, misreadDash} {
		for _, m := range pattern.FindAllStringIndex(text, -1) {
			if !overlaps(out, m[0], m[1]) {
				out = append(out, ingest.Mark{Start: m[0], End: m[1], Kind: ingest.Suspect, Raw: text[m[0]:m[1]]})
			}
		}
	}
	return out
}
