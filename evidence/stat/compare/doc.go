// Package compare compares groups of eggs without a model: Fisher's exact test and
// its odds ratio, unconditional exact tests, trends over scores, ranks.
//
// All but the ranks take eggs as independent, and so speak of groups of eggs
// rather than of dishes. It refuses a trend over groups that all or none hatched.
package compare
