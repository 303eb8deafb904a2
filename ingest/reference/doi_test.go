package reference

import "testing"

// The DOIs and rules are checks X32 to X35 of the reference values (Crossref,
// 11 August 2015; DOI syntax, ANSI/NISO Z39.84).
func TestFindDOI(t *testing.T) {
	for in, want := range map[string]string{
		"10.1093/biomet/asaa052":                                            "10.1093/biomet/asaa052",
		"(10.1093/biomet/asaa052).":                                         "10.1093/biomet/asaa052",
		"doi:10.1093/BIOMET/asaa052":                                        "10.1093/biomet/asaa052",
		"https://doi.org/10.1093/biomet/asaa052,":                           "10.1093/biomet/asaa052",
		"10.1002/(SICI)1097-0258(19980430)17:8<857::AID-SIM777>3.0.CO;2-E.": "10.1002/(sici)1097-0258(19980430)17:8<857::aid-sim777>3.0.co;2-e",
		"see 10.1000.10/123":                                                "10.1000.10/123",
		"10.12345.10/123":                                                   "10.12345.10/123",
		"10.1234/a(b)c":                                                     "10.1234/a(b)c",
		"no doi, 10.5 °C/min":                                               "",
		"(see 10.1234/ab(c).)":                                              "10.1234/ab(c)",
	} {
		if got := FindDOI(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}
