package listing

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

type inner struct {
	Text int `json:"text"`
}

type record struct {
	Name  string   `json:"name"`
	Low   *float64 `json:"low"`
	Pages []string `json:"pages"`
	How   inner    `json:"how"`
	Sure  bool     `json:"sure"`
}

func TestEmitCSV(t *testing.T) {
	minus := -7.5
	for _, c := range []struct {
		name    string
		records []record
		want    string
	}{
		{"none", nil, "name,low,pages,how.text,sure\n"},
		{"values", []record{{"a", &minus, []string{"x", "y"}, inner{3}, true}}, "name,low,pages,how.text,sure\na,-7.5,x; y,3,true\n"},
		{"open", []record{{Name: "b"}}, "name,low,pages,how.text,sure\nb,,,0,false\n"},
		// A spreadsheet would take these for formulas.
		{"formulas", []record{{Name: "=HYPERLINK(1)"}, {Name: "+1+2"}, {Name: "-a"}, {Name: "@x"}, {Name: "\tz"}},
			"name,low,pages,how.text,sure\n'=HYPERLINK(1),,,0,false\n'+1+2,,,0,false\n'-a,,,0,false\n'@x,,,0,false\n'\tz,,,0,false\n"},
	} {
		var b strings.Builder
		if err := WriteCSV(&b, c.records); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(c.want, b.String()); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
}
