package taxonomy

import "testing"

func TestNames(t *testing.T) {
	n, err := NewNames([]Alias{{"Vernocephala atra", "Vernocephala umbrosa"}, {"Ombracaris umbrosa", "Vernocephala atra"}, {"Ombracaris", "Vernocephala"}})
	if err != nil {
		t.Fatal(err)
	}
	for in, want := range map[string]string{
		"vernocephala  ATRA":   "Vernocephala umbrosa",
		"Ombracaris umbrosa":   "Vernocephala umbrosa",
		"Ombracaris nitida":    "Vernocephala nitida",
		"Vernocephala umbrosa": "Vernocephala umbrosa",
		"Triops":               "Triops",
		"":                     "",
	} {
		if got := n.Current(in); got != want {
			t.Errorf("Current(%q) = %q, want %q", in, got, want)
		}
	}
	for _, bad := range [][]Alias{{{"A b", "A b"}}, {{"A b", "A c"}, {"A c", "A b"}}, {{"", "A"}}} {
		if _, err := NewNames(bad); err == nil {
			t.Errorf("aliases %v are taken", bad)
		}
	}
}

func TestDoubtful(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want bool
	}{
		{"Phallocryptus spinosa", "Phallocryptus spinosus", true},
		{"Streptocephalus seali", "Streptocephalus sealii", true},
		{"Triops longicaudatus", "Triops longicaudatns", true},
		{"Eulimnadia texana", "Eulimnadla texana", true},
		{"Branchinecta lynchi", "Branchinecta lindahli", false},
		{"Artemia salina", "Artemia sinica", false},
		{"Triops simplex", "Streptocephalus simplex", false},
	} {
		got := (*Names)(nil).Doubtful([]string{tt.a, tt.b})
		if (len(got) > 0) != tt.want {
			t.Errorf("%s and %s: %v", tt.a, tt.b, got)
		}
	}
}

func TestDistance(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"triops", "triops", 0}, {"triops", "tirops", 1}, {"triops", "trops", 1}, {"abc", "xyz", 3}, {"lindahli", "lindahlii", 1}} {
		if got := distance(tt.a, tt.b, 5); got != tt.want {
			t.Errorf("distance(%q, %q) = %d, want %d", tt.a, tt.b, got, tt.want)
		}
	}
}
