package citation

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"
)

func showMentions(ms []Mention) string {
	var out []string
	for _, m := range ms {
		s := strings.Join(m.Families, "+")
		if m.EtAl {
			s += "+al"
		}
		if m.Year > 0 {
			s += fmt.Sprintf(" %d%s", m.Year, m.Suffix)
		}
		if m.Personal {
			s += " personal"
		}
		if m.Authority {
			s += " authority"
		}
		if m.Back {
			s += " back"
		}
		if m.Numbers != nil {
			s += fmt.Sprint(m.Numbers)
		}
		out = append(out, strings.TrimSpace(s))
	}
	return strings.Join(out, "; ")
}

// All names are invented.
var mentionCases = []struct{ in, want string }{
	{"Eggs hatched at 4 °C (Hallow 1987; Birk and Moor 1990).", "Hallow 1987; Birk+Moor 1990"},
	{"Hallow & Birk (1987) found none.", "Hallow+Birk 1987"},
	{"As Hallow et al. 1987a wrote,", "Hallow+al 1987a"},
	{"Hallow's (1987) trial", "Hallow 1987"},
	{"Hallow and Birk’s (1987) trial", "Hallow+Birk 1987"},
	{"Laut Hallow und Birk (1987) schlüpften sie.", "Hallow+Birk 1987"},
	{"Selon Hallow et Birk (1987), rien.", "Hallow+Birk 1987"},
	{"según Hallow y Birk (1987)", "Hallow+Birk 1987"},
	{"(Hallow, Birk & Moor, 1990)", "Hallow+Birk+Moor 1990"},
	{"(Hallow et al., 1990)", "Hallow+al 1990"},
	{"(Hallow 1987, 1990)", "Hallow 1987; Hallow 1990"},
	{"(Hallow 1987a, b; Birk 1999)", "Hallow 1987a; Hallow 1987b; Birk 1999"},
	{"(see Hallow 1987)", "Hallow 1987"},
	{"(e.g., van der Moor 1987)", "van der Moor 1987"},
	{"(reviewed in Hallow 1987)", "Hallow 1987"},
	{"Hallow and colleagues (2001) report", "Hallow+al 2001"},
	{"Hallow u. a. (2001)", "Hallow+al 2001"},
	{"J. K. Hallow (1987)", "Hallow 1987"},
	{"(Hallow-Birk & D'Moor 1987)", "Hallow-Birk+D'Moor 1987"},
	{"HALLOW (1987)", "HALLOW 1987"},
	{"will hatch (K. Lindner, pers. comm.).", "Lindner personal"},
	{"(M. Birk, unpublished data)", "Birk personal"},
	{"as explained [9] and [2, 5–7].", "[9]; [2 5 6 7]"},
	{"Testus inventus (Hallow, 1801) was kept", "Hallow 1801 authority"},
	{"Testus inventus Hallow & Birk, 1801 was kept", "Hallow+Birk 1801 authority"},
	{"eggs of Testus inventus (Hallow 1987)", "Hallow 1987"},
	{"(Hallow u. Birk 1987)", "Hallow+Birk 1987"},
	{"(Hallow, Birk e Moor 1990; Moor y Birk 1991)", "Hallow+Birk+Moor 1990; Moor+Birk 1991"},
	{"Hallow y cols. (2001)", "Hallow+al 2001"},
	{"Hallow u. Mitarb. (2001)", "Hallow+al 2001"},
	{"On the Kelm Terraces, Hallow et al. (2001) saw", "Hallow+al 2001"},
	{"(Hallow, Birk, et al. 2001)", "Hallow+Birk+al 2001"},
	{"(Hallow et coll. 2001)", "Hallow+al 2001"},
	{"(Hallow 1987a und b)", "Hallow 1987a; Hallow 1987b"},
	{"(Hallow, loc. cit.)", "Hallow back"},
	{"Hallow & Birk (op. cit.) saw", "Hallow+Birk back"},
	{"bei 5 °C (Hallow, a. a. O.).", "Hallow back"},
	{"at 5 °C (ibid.).", "back"},
	{"at 5 °C (ibid., p. 4).", "back"},
	{"the ibid. of the list", ""},
	{"a loc. cit. without a name", ""},
	{"in March 1998 and in 1999", ""},
	{"(March 1998)", ""},
	{"(collected in Norfolk 1998)", ""},
	{"In Norfolk 1998 was wet.", ""},
	{"The 2 h (n = 1998)", ""},
	{"[n = 5]", ""},
}

func TestMentions(t *testing.T) {
	for _, c := range mentionCases {
		ms := Mentions(c.in)
		if got := showMentions(ms); got != c.want {
			t.Errorf("%q\n got %s\nwant %s", c.in, got, c.want)
		}
	}
}

func TestMentionSpans(t *testing.T) {
	in := "Eggs (see Hallow 1987, 1990; Birk & Moor (1991))"
	var got []string
	for _, m := range Mentions(in) {
		got = append(got, in[m.Start:m.End])
	}
	if s := strings.Join(got, "|"); s != "Hallow 1987|1990|Birk & Moor (1991" {
		t.Errorf("got %s", s)
	}
}

func FuzzMentions(f *testing.F) {
	for _, c := range mentionCases {
		f.Add(c.in)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, m := range Mentions(text) {
			if m.Start < 0 || m.End <= m.Start || m.End > len(text) {
				t.Fatalf("%q: span %d to %d", text, m.Start, m.End)
			}
			if utf8.ValidString(text) && !utf8.ValidString(text[m.Start:m.End]) {
				t.Fatalf("%q: %q cuts a character", text, text[m.Start:m.End])
			}
			if len(m.Families) == 0 && !m.Personal && !m.Back && len(m.Numbers) == 0 {
				t.Fatalf("%q: a mention of nobody", text)
			}
		}
	})
}
