package bibliography

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"hatchlore/ingest/reference"
)

// WriteBibTeX writes works as BibTeX in UTF-8, with TeX's special characters
// escaped.
func WriteBibTeX(w io.Writer, works []Work) error {
	b := bufio.NewWriter(w)
	for _, k := range works {
		fmt.Fprintf(b, "@%s{%s", bibType(k.Kind), bibKey(k))
		var authors []string
		for _, a := range k.Authors {
			if a.Given == "" {
				authors = append(authors, "{"+nameTeX(a.Family)+"}")
			} else {
				authors = append(authors, nameTeX(a.Family)+", "+nameTeX(a.Given))
			}
		}
		journal := "journal"
		if k.Kind == Chapter {
			journal = "booktitle"
		}
		fields := [][2]string{{"author", strings.Join(authors, " and ")}, {"title", texOf(k.Title)}, {journal, texOf(k.Journal)},
			{"volume", texOf(k.Volume)}, {"pages", strings.ReplaceAll(texOf(k.Pages), "–", "--")}, {"publisher", texOf(k.Publisher)}, {"doi", texOf(k.DOI)}}
		if k.Year > 0 {
			fields = append(fields, [2]string{"year", fmt.Sprint(k.Year)})
		}
		for _, f := range fields {
			if f[1] != "" {
				fmt.Fprintf(b, ",\n  %s = {%s}", f[0], f[1])
			}
		}
		fmt.Fprint(b, "\n}\n\n")
	}
	return b.Flush()
}

func bibType(k Kind) string {
	switch k {
	case Article, Book:
		return string(k)
	case Chapter:
		return "incollection"
	case Thesis:
		return "phdthesis"
	case Report:
		return "techreport"
	}
	return "misc"
}

// bibKey is the work's key, or one made from its record.
func bibKey(k Work) string {
	if k.Key != "" {
		return k.Key
	}
	return reference.Key(k.Record, func(string) bool { return false })
}
