package stat

// TermTest is a test of all columns of a term at once.
type TermTest struct {
	Statistic float64 // chi-squared, or F where the dispersion is estimated
	DF1, DF2  int     // DF2 0: chi-squared
	P         float64
}
